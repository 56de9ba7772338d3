import { Button, Group, List, SegmentedControl, Stack, Table, Text, TextInput } from '@mantine/core';
import { uncertainText } from '../../../charts/number-text.ts';
import {
  aimDoubts,
  type FilmKnowledge,
  knowledgeText,
  referenceOf,
  scatterText,
} from '../../drafts/film-aim.ts';
import { percentText } from '../../drafts/loss-address.ts';
import type { ReadTarget, TargetDraft } from '../../drafts/target-draft.ts';
import { Disclosure } from '../disclosure.tsx';
import { type FormProps, shownFault } from '../record-forms/fields.ts';

interface TransferPanelProps extends FormProps<TargetDraft> {
  read: ReadTarget;
  known: FilmKnowledge;
}

/** Whether the ratio is wanted in the target or in the film, and for a film what the target must be. */
export function TransferPanel(props: TransferPanelProps) {
  const { draft, onChange, read, known } = props;
  return (
    <Stack gap="xs">
      <Group gap="xs">
        <Text size="sm" fw={500} id="wanted-in">
          The ratio is wanted in the
        </Text>
        <SegmentedControl
          aria-labelledby="wanted-in"
          value={draft.wantedIn}
          onChange={(wantedIn) => onChange({ ...draft, wantedIn: wantedIn as TargetDraft['wantedIn'] })}
          data={['target', 'film']}
        />
      </Group>
      {draft.wantedIn === 'film' ? (
        <>
          <FilmAnswer draft={draft} read={read} known={known} />
          <Disclosure
            title="How elements go from target to film, and what heating takes"
            isOpenAtFirst={known.fit === null}
          >
            <FactorTable {...props} />
          </Disclosure>
        </>
      ) : null}
    </Stack>
  );
}

function FilmAnswer({ draft, read, known }: Pick<TransferPanelProps, 'draft' | 'read' | 'known'>) {
  const { aim } = read;
  const losses = Object.entries(draft.losses).filter(([, text]) => text.trim() !== '');
  const target = aim?.answer.target.cations;
  return (
    <div role="status">
      {target ? (
        <Text fw={600} className="number">
          Target for it:{' '}
          {Object.entries(target)
            .map(
              ([symbol, amount]) => `${symbol} ${uncertainText(amount, aim.answer.targetU[symbol] ?? null)}`,
            )
            .join(' : ')}
        </Text>
      ) : null}
      {losses.length > 0 ? (
        <Text size="sm" className="number">
          Heating takes {losses.map(([symbol, text]) => `${text} % of the ${symbol}`).join(', ')}
          {draft.lossesFrom ? ` (${draft.lossesFrom})` : ''}.
        </Text>
      ) : null}
      <Text size="sm">
        {knowledgeText(known)}
        {aim === null && known.fit === null
          ? ' Until factors are typed below, the ratio is taken for the target itself.'
          : ''}
      </Text>
    </div>
  );
}

function FactorTable(props: TransferPanelProps) {
  const { draft, onChange, read, known } = props;
  const symbols = Object.entries(read.wantedCations ?? {}).flatMap(([symbol, amount]) =>
    amount > 0 ? [symbol] : [],
  );
  const reference = known.fit?.reference ?? referenceOf(symbols);
  const cell = (kind: 'factors' | 'losses', symbol: string, label: string, placeholder: string) => {
    const text = draft[kind][symbol] ?? '';
    return (
      <TextInput
        aria-label={`${label} of ${symbol}`}
        placeholder={placeholder}
        value={text}
        error={shownFault(
          { faults: props.faults, isTried: true },
          `${kind === 'factors' ? 'factor' : 'loss'}.${symbol}`,
          text,
        )}
        onChange={(event) =>
          onChange({
            ...draft,
            [kind]: { ...draft[kind], [symbol]: event.currentTarget.value },
            ...(kind === 'losses' ? { lossesFrom: '' } : {}),
          })
        }
      />
    );
  };
  const proposed = symbols.filter((symbol) => known.losses[symbol]);
  const isTyped = [...Object.values(draft.factors), ...Object.values(draft.losses)].some(
    (text) => text !== '',
  );
  return (
    <Stack gap="xs">
      <Table.ScrollContainer minWidth={560}>
        <Table verticalSpacing={4} horizontalSpacing="xs" aria-label="Transfer factors and losses">
          <Table.Thead>
            <Table.Tr>
              <Table.Th>Element</Table.Th>
              <Table.Th>Learnt factor</Table.Th>
              <Table.Th>Next film, 95 %</Table.Th>
              <Table.Th w={140}>Factor, if typed</Table.Th>
              <Table.Th w={140}>Lost in heating, %</Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {symbols.map((symbol) => {
              const factor = known.fit?.factors[symbol];
              const next = known.fit?.nextFilm[symbol];
              const isReference = symbol === reference;
              return (
                <Table.Tr key={symbol} style={{ verticalAlign: 'top' }}>
                  <Table.Td>{symbol}</Table.Td>
                  <Table.Td className="number">
                    {isReference
                      ? '1, the others count against it'
                      : factor
                        ? uncertainText(factor.value, factor.standardUncertainty)
                        : 'no pair'}
                  </Table.Td>
                  <Table.Td className="number">
                    {next ? `${next.low.toPrecision(3)} to ${next.high.toPrecision(3)}` : ''}
                  </Table.Td>
                  <Table.Td>{cell('factors', symbol, 'Transfer factor', '0.95 ± 0.02')}</Table.Td>
                  <Table.Td>{cell('losses', symbol, 'Loss in heating, %,', '0')}</Table.Td>
                </Table.Tr>
              );
            })}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      <Group gap="xs">
        {proposed.length > 0 ? (
          <Button
            size="compact-sm"
            variant="light"
            onClick={() =>
              onChange({
                ...draft,
                losses: {
                  ...draft.losses,
                  ...Object.fromEntries(
                    proposed.map((symbol) => [symbol, percentText(known.losses[symbol]!)]),
                  ),
                },
                lossesFrom: 'measured before and after heating',
              })
            }
          >
            Take the losses measured before and after heating
          </Button>
        ) : null}
        {isTyped ? (
          <Button
            size="compact-sm"
            variant="subtle"
            color="gray"
            onClick={() => onChange({ ...draft, factors: {}, losses: {}, lossesFrom: '' })}
          >
            {known.fit ? 'Back to the learnt factors' : 'Clear factors and losses'}
          </Button>
        ) : null}
      </Group>
      <List size="sm" aria-label="What the factors rest on">
        <List.Item>
          Factor: atoms in the film per atom in the target, a common factor free. A number without ± is taken
          as exact. Loss: share of the deposited atoms that heating takes later.
        </List.Item>
        {known.fit ? <List.Item>Pairs: {known.pairs.map(({ label }) => label).join(', ')}.</List.Item> : null}
        {known.fit ? <List.Item>{scatterText(known.fit)}</List.Item> : null}
        {proposed.map((symbol) => {
          const { value, standardUncertainty, nPieces } = known.losses[symbol]!;
          return (
            <List.Item key={symbol}>
              {symbol}: {uncertainText(100 * value, 100 * standardUncertainty)} % lost, from {nPieces}{' '}
              {nPieces === 1 ? 'piece' : 'pieces'} measured before and after heating, against the rare earths.
            </List.Item>
          );
        })}
        {[...known.leftOut, ...aimDoubts(known, read.aim)].map((sentence) => (
          <List.Item key={sentence}>{sentence}</List.Item>
        ))}
      </List>
    </Stack>
  );
}
