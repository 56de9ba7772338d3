import { Grid, NativeSelect, Paper, Stack, Text, Title } from '@mantine/core';
import { useParams, useSearch } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import type { PlanePoint } from '../../charts/plane/plane-request.ts';
import { ratioText } from '../../charts/trade-text.ts';
import { filmRows } from '../../records/film-rows.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { readRatio } from '../compositions.ts';
import { AssemblageAnswer } from '../parts/assemblage-answer.tsx';
import { InventedNotice } from '../parts/invented-notice.tsx';
import { LoadedSeries } from '../parts/loaded-series.tsx';
import { ObservationList } from '../parts/plane/observation-list.tsx';
import { OwnPoints } from '../parts/plane/own-points.tsx';
import { PathLiquid } from '../parts/plane/path-liquid.tsx';
import { PlaneControls } from '../parts/plane/plane-controls.tsx';
import { PlaneMap } from '../parts/plane/plane-map.tsx';
import { ProblemNotice } from '../parts/problem-notice.tsx';
import { Question } from '../parts/question.tsx';
import { filmPaths } from '../plane/film-paths.ts';
import { cationsBetween, type PlaneSetting, USUAL_RANGE } from '../plane/plane-setting.ts';
import { conditionText, type GrowthCondition } from '../reading.ts';
import { useReadings } from '../readings.ts';

/** Where the map begins: the ratio of the address, else the best film's, else 1:3:6 of the series' rare earth. */
function firstSetting(view: SeriesView, ratio: string | undefined): PlaneSetting {
  const { rareEarths, growth } = view.series.body;
  const rareEarth = rareEarths[0]!;
  const asked = ratio === undefined ? undefined : readRatio(ratio, rareEarth);
  const best = filmRows(view).find(({ cations }) => cations !== null)?.cations;
  const cations = asked && 'cations' in asked ? asked.cations : (best ?? { [rareEarth]: 1, Ba: 3, Cu: 6 });
  return {
    rareEarth,
    cations,
    across: 'oxygen',
    cationsTo: { Ba: 3, Cu: 7 },
    po2Atm: growth.po2Atm,
    ...USUAL_RANGE,
    meltOffsetJPerMol: growth.meltOffsetJPerMol,
    heldBack: [],
  };
}

/** The phases at one place of the map, in both readings where they differ. */
function AtOnePlace({ setting, place }: { setting: PlaneSetting; place: PlanePoint | null }) {
  const isOxygen = setting.across === 'oxygen';
  const condition: GrowthCondition = {
    temperatureC: Number((place?.temperatureC ?? 800).toFixed(1)),
    po2Atm: isOxygen && place ? Number(place.x.toPrecision(4)) : setting.po2Atm,
    meltOffsetJPerMol: setting.meltOffsetJPerMol,
    heldBack: setting.heldBack,
  };
  const cations =
    isOxygen || !place ? setting.cations : cationsBetween(setting.cations, setting.cationsTo, place.x);
  const { readings, superconductor, error } = useReadings(place && cations, condition, null);
  return (
    <Paper withBorder p="sm" component="section" aria-label="At one place of the map">
      <Stack gap="xs">
        <Title order={2}>At one place of the map</Title>
        <ProblemNotice error={error} />
        {place && readings ? (
          <>
            <Text size="sm">
              {ratioText(cations)}, {conditionText(condition)}
            </Text>
            <AssemblageAnswer readings={readings} superconductor={superconductor} />
          </>
        ) : (
          <Text size="sm" c="dimmed">
            Click in the map, or choose a published point in it.
          </Text>
        )}
      </Stack>
    </Paper>
  );
}

function PlaneBoard({ view, ratio }: { view: SeriesView; ratio: string | undefined }) {
  const [setting, setSetting] = useState(() => firstSetting(view, ratio));
  const [place, setPlace] = useState<PlanePoint | null>(null);
  const paths = useMemo(() => filmPaths(view), [view]);
  const [pathId, setPathId] = useState('');
  const path = paths.find(({ id }) => id === pathId) ?? null;
  const change = (next: PlaneSetting) => {
    if (next.across !== setting.across) setPlace(null);
    setSetting(next);
  };
  return (
    <Stack gap="lg">
      <div>
        <Question of={view.series.body.label}>
          At which temperature and oxygen pressure do liquid and 123 live together?
        </Question>
        <InventedNotice isInvented={view.series.body.isInvented} />
      </div>
      <Grid gap="lg">
        <Grid.Col span={{ base: 12, md: 7 }}>
          <PlaneMap view={view} setting={setting} path={path} selected={place} onSelect={setPlace} />
        </Grid.Col>
        <Grid.Col span={{ base: 12, md: 5 }}>
          <Stack>
            <PlaneControls setting={setting} ownRareEarths={view.series.body.rareEarths} onChange={change} />
            <AtOnePlace setting={setting} place={place} />
          </Stack>
        </Grid.Col>
      </Grid>
      <Stack gap="sm">
        <NativeSelect
          label="Path of a film over the map"
          maw={420}
          value={pathId}
          disabled={paths.length === 0}
          data={[
            { value: '', label: paths.length === 0 ? 'no film has a condition or path' : 'none' },
            ...paths.map(({ id, label }) => ({ value: id, label })),
          ]}
          onChange={(event) => setPathId(event.currentTarget.value)}
        />
        {path ? <PathLiquid path={path} cations={setting.cations} reading={setting} /> : null}
      </Stack>
      <OwnPoints view={view} chosen={setting.across === 'oxygen' ? place : null} />
      <ObservationList />
    </Stack>
  );
}

/** The plane of temperature and oxygen at one composition. */
export function TemperatureOxygenPage() {
  const { seriesId } = useParams({ from: '/series/$seriesId/temperature-oxygen' });
  const { ratio } = useSearch({ from: '/series/$seriesId/temperature-oxygen' });
  return (
    <LoadedSeries seriesId={seriesId}>
      {(view) => <PlaneBoard key={`${seriesId} ${ratio ?? ''}`} view={view} ratio={ratio} />}
    </LoadedSeries>
  );
}
