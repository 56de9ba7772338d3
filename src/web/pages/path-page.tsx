import { Anchor, Button, Fieldset, Grid, Group, Paper, Stack, Text } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useParams, useSearch } from '@tanstack/react-router';
import { useMemo, useState } from 'react';
import { flushSync } from 'react-dom';
import type { SeriesView } from '../../records/series-view.ts';
import { RARE_EARTHS } from '../../science/matter/elements.ts';
import { superconductorOf } from '../assemblage.ts';
import { useComputation } from '../compute.ts';
import { readPath } from '../drafts/path-draft.ts';
import { withChamber } from '../drafts/typed-as.ts';
import { measurementView } from '../imports.ts';
import { InventedNotice } from '../parts/invented-notice.tsx';
import { LoadedSeries } from '../parts/loaded-series.tsx';
import { ChamberChoice } from '../parts/path/chamber-choice.tsx';
import { Consequences } from '../parts/path/consequences/consequences.tsx';
import { DrivePlan } from '../parts/path/drive-plan.tsx';
import { KeepPlan, PlanList } from '../parts/path/keep-plan.tsx';
import { chamberLogs, LogOverlay } from '../parts/path/log-overlay.tsx';
import { PathAnswerPart, type ReadLiquid } from '../parts/path/path-answer.tsx';
import { PathMap, PathTimeFigure } from '../parts/path/path-figures.tsx';
import { PlanForm } from '../parts/path/plan-form.tsx';
import { RunSheet } from '../parts/path/run-sheet.tsx';
import { Question } from '../parts/question.tsx';
import { ReadingControls } from '../parts/reading-controls.tsx';
import { addressFault, type PathAddress, usePathDraft } from '../path/path-address.ts';
import { usePathLiquid } from '../path/path-liquid.ts';
import { type ComparedLog, chamberLog, logInPlanTime, logRequest } from '../path/path-log.ts';
import { type PathAnswer, pathRequest, sensorOffsetK } from '../path/path-request.ts';
import { EQUILIBRIUM, heldBackFor, isEquilibrium, type Reading } from '../reading.ts';

/** What stands far down, by the id of its place. */
const ON_THIS_PAGE = [
  ['consequences', 'What it does to the film'],
  ['log', 'What the chamber logged'],
  ['drive', 'Drive it with a piece'],
  ['sheet', 'Run sheet'],
  ['plans', 'Plans of this series'],
] as const;

function PathBoard({ view, address }: { view: SeriesView; address: PathAddress }) {
  const series = view.series.body;
  const [draft, setDraft] = usePathDraft(view, address);
  const [attempts, setAttempts] = useState(0);
  const [set, setReading] = useState<{ reading: Reading; of: string }>({
    reading: { meltOffsetJPerMol: series.growth.meltOffsetJPerMol, heldBack: [] },
    of: series.rareEarths[0]!,
  });
  const chamberOf = (chamberId: string) => view.chambers.find(({ id }) => id === chamberId)?.body ?? null;
  const chamber = chamberOf(draft.chamberId);
  const offsetK = sensorOffsetK(chamber);
  const read = useMemo(() => readPath(draft, series.rareEarths[0]!, offsetK), [draft, series, offsetK]);
  const { cations, readable } = read;
  const rareEarth =
    RARE_EARTHS.find((symbol) => cations && superconductorOf(cations).startsWith(`${symbol}Ba`)) ??
    series.rareEarths[0]!;
  const reading = useMemo(
    (): Reading => ({ ...set.reading, heldBack: heldBackFor(set.reading.heldBack, set.of, rareEarth) }),
    [set, rareEarth],
  );
  const [logChoice, setLogChoice] = useState<string | null>(null);
  const firstLog = chamberLogs(view, draft.treatmentId)[0];
  const isOwn = draft.treatmentId !== '' && firstLog?.body.stateTreatmentId === draft.treatmentId;
  const ownLogId = isOwn ? firstLog!.id : '';
  const logId = logChoice ?? ownLogId;
  const logView = useQuery({
    queryKey: ['measurement', logId],
    queryFn: () => measurementView(logId),
    enabled: logId !== '',
  });
  const log = useMemo(
    () => (logId !== '' && logView.data ? chamberLog(logView.data, chamber, logId === ownLogId) : null),
    [logId, logView.data, chamber, ownLogId],
  );
  const request = useMemo(() => (readable ? pathRequest(readable, chamber) : null), [readable, chamber]);
  const path = useComputation<PathAnswer>('growth.path', request);
  const answer = readable && !path.error ? path.response : null;
  const asked = useMemo(() => (log && readable ? logRequest(log, readable) : null), [log, readable]);
  const comparison = useComputation<ComparedLog>('growth.log', asked);
  const compared = asked && !comparison.error ? comparison.response : null;
  const isMoved = !isEquilibrium(reading);
  const bulk = usePathLiquid(request, cations, EQUILIBRIUM);
  const moved = usePathLiquid(request, isMoved ? cations : null, reading);
  const readings: ReadLiquid[] = cations
    ? [{ reading: EQUILIBRIUM, ...bulk }, ...(isMoved ? [{ reading, ...moved }] : [])]
    : [];
  const isWhole =
    !path.isRunning &&
    read.plan !== null &&
    answer !== null &&
    answer.segments.length === read.plan.segments.length;
  const placed = answer?.segments ?? [];
  const [isSheetOpen, setSheetOpen] = useState(false);
  const refusal = path.error as (Error & { sentence?: string }) | null;
  const title = draft.label.trim() ? `Plan ${draft.label.trim()}` : 'Heat and gas path';
  const film = useMemo(
    () =>
      answer && {
        timeS: [...answer.timeS],
        temperatureC: [...answer.filmTemperatureC],
        log10Po2Atm: [...answer.filmLog10Po2Atm],
      },
    [answer],
  );
  const shownLog = useMemo(() => (log ? logInPlanTime(log, compared) : null), [log, compared]);
  const form = { draft, onChange: setDraft, faults: read.faults, isTried: attempts > 0 };
  const fault = addressFault(view, address);
  return (
    <Stack gap="lg">
      {fault ? <Text role="alert">{fault}</Text> : null}
      <Group gap="md" component="nav" aria-label="On this page" className="no-print">
        {ON_THIS_PAGE.map(([id, text]) => (
          <Anchor key={id} href={`#${id}`} size="sm">
            {text}
          </Anchor>
        ))}
      </Group>
      <div className="no-print">
        <PathAnswerPart
          answer={answer}
          error={readable ? path.error : null}
          readings={readings}
          hasChamber={chamber !== null}
          readCount={readable?.segments.length ?? 0}
          stepCount={draft.steps.length}
        />
      </div>
      <Grid gap="lg">
        <Grid.Col span={{ base: 12, lg: 6 }} className="no-print">
          <Stack gap="sm">
            <PlanForm {...form} placed={placed} chamber={chamber} rareEarth={rareEarth}>
              <ChamberChoice
                view={view}
                chamberId={draft.chamberId}
                onChoose={(chamberId) =>
                  setDraft(
                    withChamber(draft, chamberId, {
                      before: offsetK,
                      after: sensorOffsetK(chamberOf(chamberId)),
                    }),
                  )
                }
              />
            </PlanForm>
            <Fieldset legend="How the diagram is read" variant="filled">
              <ReadingControls
                reading={reading}
                rareEarth={rareEarth}
                onChange={(next) => setReading({ reading: next, of: rareEarth })}
              />
            </Fieldset>
            <KeepPlan
              view={view}
              draft={draft}
              onChange={setDraft}
              plan={isWhole ? read.plan : null}
              faults={read.faults}
              refusal={refusal?.sentence ?? null}
              attempts={attempts}
              onAttempt={() => setAttempts(attempts + 1)}
              onKept={() => setAttempts(0)}
            />
          </Stack>
        </Grid.Col>
        <Grid.Col span={{ base: 12, lg: 6 }}>
          <Stack gap="md">
            {answer ? (
              <PathTimeFigure
                title={title}
                answer={answer}
                hasChamber={chamber !== null}
                shown={readings.at(-1) ?? null}
                log={shownLog}
              />
            ) : null}
            {answer && cations ? (
              <div className="no-print">
                <PathMap
                  title={title}
                  answer={answer}
                  hasChamber={chamber !== null}
                  cations={cations}
                  rareEarth={rareEarth}
                  reading={reading}
                  log={shownLog}
                />
              </div>
            ) : null}
          </Stack>
        </Grid.Col>
      </Grid>
      <div className="no-print" id="consequences">
        {answer && readable && cations ? (
          <Consequences
            start={readable.start}
            segments={readable.segments}
            film={film}
            asked={isMoved ? moved : bulk}
            cations={cations}
            rareEarth={rareEarth}
            thicknessNm={read.thicknessNm}
            substrate={draft.substrate}
            reading={reading}
            view={view}
          />
        ) : (
          <Text size="sm" c="dimmed">
            What the path does to the film stands here once its cation ratio and the first step can be read.
          </Text>
        )}
      </div>
      <div id="log">
        <LogOverlay
          view={view}
          treatmentId={draft.treatmentId}
          logId={logId}
          onChoose={setLogChoice}
          log={log}
          isPending={logView.isPending}
          error={logId === '' ? null : (logView.error ?? (asked && comparison.error))}
          compared={compared}
        />
      </div>
      <div id="drive">
        <DrivePlan view={view} draft={draft} placed={isWhole ? placed : []} />
      </div>
      <div id="sheet">
        {isWhole && read.plan ? (
          <Stack gap="xs">
            <Group className="no-print">
              <Button variant="light" aria-expanded={isSheetOpen} onClick={() => setSheetOpen(!isSheetOpen)}>
                {isSheetOpen ? 'Close the run sheet' : 'Show the run sheet'}
              </Button>
              <Button
                variant="light"
                onClick={() => {
                  flushSync(() => setSheetOpen(true));
                  window.print();
                }}
              >
                Print the run sheet
              </Button>
            </Group>
            {isSheetOpen ? (
              <Paper withBorder p="md">
                <RunSheet plan={read.plan} placed={placed} chamber={chamber} />
              </Paper>
            ) : null}
          </Stack>
        ) : (
          <Text size="sm" c="dimmed" className="no-print">
            The run sheet stands here once every step can be read.
          </Text>
        )}
      </div>
      <div id="plans">
        <PlanList
          view={view}
          openId={draft.planId}
          onOpen={(next) => {
            setAttempts(0);
            setDraft(next);
            window.scrollTo({ top: 0 });
          }}
        />
      </div>
    </Stack>
  );
}

/** A heat and gas path: what it does before it is driven, and what a log says it did. */
export function PathPage() {
  const { seriesId } = useParams({ from: '/series/$seriesId/path' });
  const address = useSearch({ from: '/series/$seriesId/path' });
  return (
    <LoadedSeries seriesId={seriesId}>
      {(view) => (
        <Stack gap="md">
          <Question of={view.series.body.label}>What will this heat and gas path do?</Question>
          <InventedNotice isInvented={view.series.body.isInvented} />
          <PathBoard key={seriesId} view={view} address={address} />
        </Stack>
      )}
    </LoadedSeries>
  );
}
