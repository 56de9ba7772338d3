import { Anchor, Group, Stack, Text, Title } from '@mantine/core';
import { Link } from '@tanstack/react-router';
import { type ReactNode, useState } from 'react';
import { shortNumber, uncertainText } from '../../../charts/number-text.ts';
import { pressureText, ratioText } from '../../../charts/trade-text.ts';
import type { Stated } from '../../../records/common.ts';
import type { FilmStory } from '../../../records/film-story.ts';
import type { Run } from '../../../records/kinds.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import { fromPa, PA_PER_ATM } from '../../drafts/pressure-units.ts';
import { runDerived } from '../../drafts/run-draft.ts';
import { momentText } from '../../moments.ts';
import { RecordActions } from '../record-actions.tsx';
import { RunEditor } from '../record-forms/editors.tsx';
import { fluenceText } from '../record-forms/run-form.tsx';
import { Revisions } from './revisions.tsx';
import { TargetOxygen } from './target-oxygen.tsx';

const stated = (number: Stated | null, unit: string): string | null =>
  number && `${uncertainText(number.value, number.standardUncertainty)} ${unit}`;

interface ParticularsProps {
  entries: readonly (readonly [string, ReactNode])[];
  /** goes over the whole width */
  note: string;
}

/** Names and values side by side, as many columns as there is room for; what is not stated is left out. */
export function Particulars({ entries, note }: ParticularsProps) {
  return (
    <dl className="particulars">
      {entries
        .filter(([, value]) => value !== null && value !== '' && value !== undefined)
        .map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd className="number">{value}</dd>
          </div>
        ))}
      {note === '' ? null : (
        <div className="particulars-note">
          <dt>Note</dt>
          <dd>{note}</dd>
        </div>
      )}
    </dl>
  );
}

function runEntries(run: Run, chamber: string | undefined): [string, ReactNode][] {
  const { fluence, surfaceC, oxygenPa } = runDerived(run);
  const { temperature, pressure } = run;
  return [
    ['Started', run.startedAt && momentText(run.startedAt)],
    ['Route', `${run.route}, ${run.source}`],
    ['Chamber', chamber],
    ['Rate of the source', stated(run.rateNmPerS, 'nm/s')],
    ['Surface', stated(surfaceC, '°C')],
    [
      'Read',
      temperature &&
        `${temperature.valueC} °C, ${temperature.place}${temperature.offsetK ? `, offset ${stated(temperature.offsetK, 'K')}` : ', no offset known'}`,
    ],
    ['Oxygen', oxygenPa === null ? null : pressureText(oxygenPa / PA_PER_ATM)],
    [
      'Gauge',
      pressure &&
        `${pressureText(pressure.valuePa / PA_PER_ATM)} ${pressure.kind === 'total' ? `in all, ${Number((pressure.oxygenShare * 100).toPrecision(4))} % O₂` : 'of oxygen'}${pressure.gauge ? `, ${pressure.gauge}` : ''}`,
    ],
    [
      'Base pressure',
      run.basePressurePa === null ? null : `${shortNumber(fromPa(run.basePressurePa, 'mbar'), 2)} mbar`,
    ],
    ['Fluence', fluence && `${fluenceText(fluence.jPerM2)}, from the ${fluence.from}`],
    ['Energy at the target', stated(run.energyAtTargetMj, 'mJ')],
    ['Before the window', stated(run.energyBeforeWindowMj, 'mJ')],
    ['After the window', stated(run.energyAfterWindowMj, 'mJ')],
    ['Spot', stated(run.spotAreaMm2, 'mm²')],
    ['Distance', run.distanceMm === null ? null : `${run.distanceMm} mm`],
    ['Repetition', run.repetitionHz === null ? null : `${run.repetitionHz} Hz`],
    ['Pulses', run.pulses?.toLocaleString('en')],
    ['Since resurfacing', run.pulsesSinceResurfacing?.toLocaleString('en')],
    ['On the shuttered target', run.preAblationPulses?.toLocaleString('en')],
    ['Mounting', run.mounting],
    ['Window cleaned', run.isWindowCleaned === null ? null : run.isWindowCleaned ? 'yes' : 'no'],
  ];
}

/** From what and how a film was grown. */
export function RunSection({ view, story }: { view: SeriesView; story: FilmStory }) {
  const [isEdited, setIsEdited] = useState(false);
  const { film, run, target } = story;
  const cations = film.body.cations ?? target?.body.cations ?? null;
  return (
    <Stack gap="xs">
      <Title order={2}>Composition</Title>
      <Text size="sm" className="number">
        {cations ? ratioText(cations) : 'not recorded'}
        {film.body.cations ? ', of the film itself' : target ? ', of its target' : ''}
        {target ? (
          <>
            ; target{' '}
            <Anchor
              size="sm"
              renderRoot={(props) => (
                <Link to="/series/$seriesId/target" params={{ seriesId: view.series.id }} {...props} />
              )}
            >
              {target.body.label}
            </Anchor>
          </>
        ) : null}
      </Text>
      {target ? <TargetOxygen target={target.body} route={run?.body.route ?? 'not stated'} /> : null}
      <Group justify="space-between" mt="sm">
        <Title order={2} style={{ overflowWrap: 'anywhere' }}>
          {run ? `Run ${run.body.label}` : 'Received from elsewhere'}
        </Title>
        {run && !isEdited ? (
          <RecordActions record={run} name={`run ${run.body.label}`} onEdit={() => setIsEdited(true)} />
        ) : null}
      </Group>
      {run && isEdited ? <RunEditor view={view} run={run} onClose={() => setIsEdited(false)} /> : null}
      {run && !isEdited ? (
        <>
          <Particulars
            entries={runEntries(
              run.body,
              view.chambers.find(({ id }) => id === run.body.chamberId)?.body.label,
            )}
            note={run.body.note}
          />
          <Revisions record={run} name={`Run ${run.body.label}`} />
        </>
      ) : null}
      {run ? null : (
        <Text size="sm" c="dimmed">
          No run of this series made this film.
        </Text>
      )}
    </Stack>
  );
}
