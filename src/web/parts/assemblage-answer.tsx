import { Stack, Table, Text } from '@mantine/core';
import { uncertainText } from '../../charts/number-text.ts';
import {
  type Assemblage,
  absentPhases,
  LIQUID,
  namesOver,
  oddsOf,
  oddsText,
  type ReadAs,
  remarksOver,
} from '../assemblage.ts';
import { Disclosure } from './disclosure.tsx';
import { TrustNotes } from './trust-notes.tsx';

const MOST_FIELDS = 6;
const MOST_ABSENT = 8;

const percent = (share: number): string => `${(100 * share).toFixed(share < 0.0995 ? 1 : 0)} %`;

function shareText(answer: Assemblage, name: string): string {
  const phase = answer.phases.find((each) => each.name === name);
  return phase ? `${uncertainText(100 * phase.share, 100 * phase.shareU)} %` : '–';
}

interface RowsProps {
  label: string;
  /** heading of the first column */
  of: string;
  readings: readonly ReadAs[];
  rows: readonly { name: string; texts: readonly string[] }[];
}

/** One row a thing, one column a reading. */
function Rows({ label, of, readings, rows }: RowsProps) {
  return (
    <Table aria-label={label} verticalSpacing={3} horizontalSpacing="xs">
      <Table.Thead>
        <Table.Tr>
          <Table.Th>{of}</Table.Th>
          {readings.map(({ title }) => (
            <Table.Th key={title} ta="right">
              {title}
            </Table.Th>
          ))}
        </Table.Tr>
      </Table.Thead>
      <Table.Tbody>
        {rows.map(({ name, texts }) => (
          <Table.Tr key={name}>
            <Table.Td style={{ overflowWrap: 'anywhere' }}>{name}</Table.Td>
            {texts.map((text, i) => (
              <Table.Td
                key={readings[i]!.title}
                ta="right"
                className="number"
                style={{ whiteSpace: 'nowrap' }}
              >
                {text}
              </Table.Td>
            ))}
          </Table.Tr>
        ))}
      </Table.Tbody>
    </Table>
  );
}

interface AssemblageAnswerProps {
  /** of one composition and condition; more than one stand side by side */
  readings: readonly ReadAs[];
  superconductor: string;
}

/** What stands at one composition and condition, how sure that is, and what nearly stands there. */
export function AssemblageAnswer({ readings, superconductor }: AssemblageAnswerProps) {
  const overAll = (of: (answer: Assemblage) => string) => readings.map(({ answer }) => of(answer));
  const phases = namesOver(readings, (answer) => answer.phases.map(({ name }) => name));
  const fields = namesOver(readings, ({ odds }) =>
    Object.entries(odds)
      .sort(([, one], [, other]) => other - one)
      .slice(0, MOST_FIELDS)
      .map(([field]) => field),
  );
  const absent = absentPhases(readings, MOST_ABSENT);
  return (
    <Stack gap="xs">
      <Rows
        label="Phases at this composition"
        of="Share of the cations (median member)"
        readings={readings}
        rows={[
          ...phases.map((name) => ({ name, texts: overAll((answer) => shareText(answer, name)) })),
          {
            name: 'Liquid in 95 % of the members',
            texts: overAll(({ liquidInterval: { low, high } }) =>
              high > 0 ? `${percent(low)} to ${percent(high)}` : 'none',
            ),
          },
          {
            name: 'Cu⁺ of the copper in the liquid',
            texts: overAll(({ cuprousShare }) => (cuprousShare === null ? '–' : percent(cuprousShare))),
          },
        ]}
      />
      <Rows
        label="Odds at this composition"
        of="Odds of each field"
        readings={readings}
        rows={[
          { name: 'liquid at all', texts: overAll(({ odds }) => oddsText(oddsOf(odds, LIQUID))) },
          {
            name: 'liquid with 123',
            texts: overAll(({ odds }) => oddsText(oddsOf(odds, LIQUID, superconductor))),
          },
          ...fields.map((field) => ({
            name: field,
            texts: overAll(({ odds }) => oddsText(odds[field] ?? 0)),
          })),
        ]}
      />
      {absent.length > 0 ? (
        <Disclosure title="What nearly forms: energy that a phase lacks">
          <Rows
            label="Driving forces"
            of="Absent phase, kJ/mol of its cations"
            readings={readings}
            rows={absent.map((name) => ({
              name,
              texts: overAll(({ driving }) =>
                driving[name] === undefined ? '–' : (driving[name] / 1000).toFixed(2),
              ),
            }))}
          />
          <Text size="xs" c="dimmed">
            Above the plane of the phases that stand there, in the median member; the smallest forms first
            where the condition moves. A phase held back may lie below: then its number is negative.
          </Text>
        </Disclosure>
      ) : null}
      <TrustNotes remarks={remarksOver(readings)} />
    </Stack>
  );
}
