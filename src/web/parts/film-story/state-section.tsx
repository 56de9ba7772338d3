import { Anchor, Group, List, SimpleGrid, Stack, Text, Title } from '@mantine/core';
import { Link } from '@tanstack/react-router';
import { useState } from 'react';
import { methodRemarks } from '../../../charts/method-remarks.ts';
import type { CationRatio } from '../../../records/common.ts';
import type { StoryFact, StoryMeasurement, StoryPiece, StoryState } from '../../../records/film-story.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import { resultText } from '../../result-line.ts';
import { PathFigure } from '../path-figure.tsx';
import { RecordActions } from '../record-actions.tsx';
import { TreatmentEditor } from '../record-forms/editors.tsx';
import { CompositionSection } from './composition-section.tsx';
import { FactsTable } from './facts-table.tsx';
import { VerdictReasons } from './verdict-reasons.tsx';

function MeasurementLine({ measured, seriesId }: { measured: StoryMeasurement; seriesId: string }) {
  const { measurement, analysis } = measured;
  const { mapping, fileName } = measurement.body;
  const says = !analysis
    ? 'not reduced yet'
    : analysis.failure
      ? `not reduced: ${analysis.failure.message}`
      : resultText(mapping.kind, analysis.facts);
  return (
    <List.Item>
      <Text size="sm" style={{ overflowWrap: 'anywhere' }}>
        <Anchor
          size="sm"
          renderRoot={(props) => (
            <Link
              to="/series/$seriesId/measurements/$measurementId"
              params={{ seriesId, measurementId: measurement.id }}
              {...props}
            />
          )}
        >
          {fileName}
        </Anchor>
        , {mapping.kind}: {says}
        {analysis?.isStale ? (
          <Text span size="xs" fw={600}>
            {' '}
            old: the science, the film or the piece has changed since; judge or reduce it again
          </Text>
        ) : null}
        {measurement.body.warnings.length > 0 ? (
          <Text span size="xs" c="dimmed">
            {' '}
            {measurement.body.warnings[0]}
          </Text>
        ) : null}
      </Text>
    </List.Item>
  );
}

/** Facts of this very state: thickness and rates of the whole film stand once, with the film. */
function ownFacts(state: StoryState): StoryFact[] {
  return state.facts.filter(({ measurement, typed }) => measurement !== null || typed !== null);
}

interface StateSectionProps {
  view: SeriesView;
  part: StoryPiece;
  state: StoryState;
  /** what the film is meant to be */
  cations: CationRatio | null;
  /** it speaks for the film: its reasons stand open */
  isBest: boolean;
}

/** A piece in one state: what brought it there, what was measured, what is known, and whether it passes. */
export function StateSection({ view, part, state, cations, isBest }: StateSectionProps) {
  const [isEdited, setIsEdited] = useState(false);
  const { treatment, measurements, phases, verdict } = state;
  const facts = ownFacts(state);
  const remarks = methodRemarks(facts.map(({ fact }) => fact));
  const seriesId = view.series.id;
  return (
    <Stack gap="xs" className="story-state">
      <Group justify="space-between">
        <Title order={4} fz="sm" style={{ overflowWrap: 'anywhere' }}>
          {treatment ? `After ${treatment.body.label}` : 'As it left the run'}
        </Title>
        {treatment && !isEdited ? (
          <RecordActions
            record={treatment}
            name={`treatment ${treatment.body.label}`}
            onEdit={() => setIsEdited(true)}
          />
        ) : null}
      </Group>
      {treatment && isEdited ? (
        <TreatmentEditor
          view={view}
          piece={part.piece}
          treatment={treatment}
          onClose={() => setIsEdited(false)}
        />
      ) : null}
      <SimpleGrid cols={{ base: 1, md: treatment ? 2 : 1 }} spacing="md">
        {treatment && !isEdited ? (
          <div>
            <PathFigure
              title={`Path of ${part.piece.body.label}: ${treatment.body.label}`}
              segments={treatment.body.segments}
            />
            <Anchor
              size="sm"
              className="no-print"
              renderRoot={(props) => (
                <Link
                  to="/series/$seriesId/path"
                  params={{ seriesId }}
                  search={{ treatmentId: treatment.id }}
                  {...props}
                />
              )}
            >
              Open {treatment.body.label} on the path page
            </Anchor>
            {treatment.body.note ? <Text size="sm">{treatment.body.note}</Text> : null}
          </div>
        ) : null}
        {measurements.length > 0 ? (
          <List size="sm" spacing={4} aria-label="Measurements">
            {measurements.map((measured) => (
              <MeasurementLine key={measured.measurement.id} measured={measured} seriesId={seriesId} />
            ))}
          </List>
        ) : (
          <Text size="sm" c="dimmed">
            No file was taken in this state.
          </Text>
        )}
      </SimpleGrid>
      <CompositionSection
        view={view}
        piece={part.piece}
        stateTreatmentId={treatment?.id ?? null}
        cations={cations}
      />
      {facts.length + phases.length > 0 ? (
        <FactsTable facts={facts} phases={phases} seriesId={seriesId} />
      ) : null}
      {remarks.length > 0 ? (
        <List size="sm" spacing={4} aria-label="Remarks">
          {remarks.map((remark) => (
            <List.Item key={remark}>{remark}</List.Item>
          ))}
        </List>
      ) : null}
      {verdict ? (
        <VerdictReasons verdict={verdict} criteria={view.series.body.criteria} isOpenAtFirst={isBest} />
      ) : facts.length + phases.length > 0 ? (
        <Text size="sm" c="dimmed">
          Not judged in this state yet.
        </Text>
      ) : null}
    </Stack>
  );
}
