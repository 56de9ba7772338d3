import { Group, List, Stack, Text, Title } from '@mantine/core';
import { uncertainText } from '../../../charts/number-text.ts';
import { ratioText } from '../../../charts/trade-text.ts';
import { sheetCautions } from '../../drafts/own-cautions.ts';
import type { BatchAsk } from '../../drafts/target-draft.ts';
import { inWords } from '../../drafts/target-words.ts';
import { conventionText, wantedText } from '../../drafts/wanted-draft.ts';
import { Cautions } from '../cautions.tsx';
import type { BatchAnswer, BatchSheetProps } from './batch-answer.ts';
import { gramText, SheetTable } from './sheet-table.tsx';
import { SinteringSteps } from './sintering-steps.tsx';

function statedRatio(ratio: Record<string, number>, u: Record<string, number>): string {
  return Object.entries(ratio)
    .map(([cation, amount]) => `${cation} ${uncertainText(amount, u[cation] ?? null)}`)
    .join(' : ');
}

function amountText({ pellet, totalMassG }: BatchAsk, response: BatchAnswer): string {
  return pellet
    ? `pellet ${pellet.diameterMm} mm × ${pellet.thicknessMm} mm, ${Number((100 * pellet.relativeDensity).toPrecision(4))} % dense: ${Number(response.firedMassG.toPrecision(5))} g fired`
    : `${totalMassG} g fired`;
}

/** What is asked for, in the words of the sheet's second line. */
function aimText({ request, response, film }: BatchSheetProps): string {
  const wanted = film?.wanted ?? request;
  const conventions = conventionText(wanted);
  return [
    `Wanted in the ${film ? 'film' : 'target'}: ${wantedText(wanted, ratioText)}; ${amountText(request, response)}; balance step ${request.balanceStepMg} mg.`,
    conventions ? `Here ${conventions}` : '',
  ]
    .filter(Boolean)
    .join(' ');
}

function leavingText({ request, response }: BatchSheetProps): string {
  const { balanceStepMg } = request;
  const { weighedTotalMg, calcinedTotalMg, leavingMg } = response;
  const stays = `Of ${gramText(weighedTotalMg, balanceStepMg)} g weighed, ${gramText(calcinedTotalMg, balanceStepMg)} g stay after calcining and firing.`;
  if (!leavingMg) return stays;
  const rows = [
    ['moisture', leavingMg.moisture],
    ['CO₂', leavingMg.CO2],
    ['H₂O of the formulas', leavingMg.H2O],
    ['NO₂', leavingMg.NO2],
    ['O₂', leavingMg.O2],
    ['other gases', leavingMg.other],
    ['beside the formulas (counted as gone)', leavingMg.beside],
  ] as const;
  const told = rows
    .filter(([, mg]) => Math.abs(mg) >= 0.5)
    .map(
      ([name, mg]) =>
        `${name} ${gramText(Math.abs(mg), Math.max(1, balanceStepMg))} g${mg < 0 ? ' taken up' : ''}`,
    );
  return `${stays} What leaves: ${told.join('; ') || 'nothing'}.`;
}

/** The weighing sheet: what to weigh of which lot, what it gives, how it is fired, what to mind. It is what is printed. */
export function BatchSheet(props: BatchSheetProps) {
  const { title, request, response, film, powders, segments, sinterGas, version, note } = props;
  const { targetRatio, ratioU, flags, radiusMeanAngstrom, radiusVarianceAngstrom2 } = response;
  const cautions = sheetCautions(
    request.precursors.map(({ formula }) => formula),
    powders,
    response.cautions,
  );
  return (
    <Stack gap="sm" className="batch-sheet">
      <div>
        <Title order={2} style={{ overflowWrap: 'anywhere' }}>
          {title}
        </Title>
        <Text size="sm" c="dimmed" className="number">
          {aimText(props)}
        </Text>
      </div>
      {film ? (
        <Text size="sm" className="number">
          <Text span fw={600} size="sm">
            Target for that film{' '}
          </Text>
          {statedRatio(film.aim.answer.target.cations, film.aim.answer.targetU)}
          <Text span size="xs" c="dimmed">
            {' '}
            (standard uncertainty from transfer factors and losses)
          </Text>
        </Text>
      ) : null}
      <SheetTable {...props} />
      <Text size="sm" className="number">
        {leavingText(props)}
      </Text>
      <Text size="sm" className="number">
        <Text span fw={600} size="sm">
          These masses give{' '}
        </Text>
        {statedRatio(targetRatio, ratioU)}
        {radiusMeanAngstrom === null
          ? ''
          : `; mean radius of the rare earths ${radiusMeanAngstrom.toFixed(4)} Å${(radiusVarianceAngstrom2 ?? 0) > 1e-9 ? `, variance ${radiusVarianceAngstrom2!.toExponential(2)} Å²` : ''}`}
        <Text span size="xs" c="dimmed">
          {' '}
          (standard uncertainty from balance, purity and atomic weights)
        </Text>
      </Text>
      {flags.length > 0 ? (
        <List size="sm" aria-label="To be considered">
          {flags.map(({ code, message }) => (
            <List.Item key={`${code} ${message}`}>{inWords(message)}</List.Item>
          ))}
        </List>
      ) : null}
      <SinteringSteps segments={segments} gas={sinterGas} />
      {note ? <Text size="sm">{note}</Text> : null}
      <div>
        <Title order={3} mb={4}>
          Cautions
        </Title>
        <Cautions cautions={cautions} />
      </div>
      <Group justify="space-between" gap="xs" className="sheet-foot">
        <Text size="xs" c="dimmed">
          Made with target.batch version {version}.
        </Text>
        <Text size="sm" className="print-only">
          Weighed by ____________________ on ______________ checked by ____________________
        </Text>
      </Group>
    </Stack>
  );
}
