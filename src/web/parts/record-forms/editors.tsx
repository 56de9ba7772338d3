// The editors of a run, a film, a piece and a treatment: the forms of the record page, one record at a time.
import type { SeriesView } from '../../../records/series-view.ts';
import { EMPTY_PIECE, filmDraftOf, pieceDraftOf, readFilm, readPiece } from '../../drafts/film-draft.ts';
import { readRun, runDraftOf } from '../../drafts/run-draft.ts';
import { nextSegment } from '../../drafts/segment-rows.ts';
import { readTreatment, type TreatmentDraft, treatmentDraftOf } from '../../drafts/treatment-draft.ts';
import { createRecord, newId, reviseRecord } from '../../records.ts';
import { useSayDone } from '../../undo.ts';
import { FilmForm } from './film-form.tsx';
import { PieceForm } from './piece-form.tsx';
import { RecordEditor } from './record-editor.tsx';
import { RunForm } from './run-form.tsx';
import { TreatmentForm } from './treatment-form.tsx';

interface EditorProps {
  view: SeriesView;
  onClose: () => void;
}

/** Revises a record as it was seen, and says so with the way back. */
function useRevise() {
  const announce = useSayDone();
  return async (...[seen, body]: Parameters<typeof reviseRecord>) => {
    const changeId = newId();
    await reviseRecord(seen, body, changeId);
    announce(`Changed ${seen.kind} ${(body as { label?: string }).label ?? ''}.`, [changeId]);
  };
}

export function RunEditor({ view, run, onClose }: EditorProps & { run: SeriesView['runs'][number] }) {
  const revise = useRevise();
  return (
    <RecordEditor
      of={`Run ${run.body.label}`}
      initial={runDraftOf(run.body)}
      revision={run.revision}
      words={(field, value) =>
        field === 'targetId'
          ? view.targets.find(({ id }) => id === value)?.body.label
          : field === 'chamberId'
            ? view.chambers.find(({ id }) => id === value)?.body.label
            : undefined
      }
      read={(draft) => {
        const { run: body, faults } = readRun(draft);
        return { body, faults };
      }}
      form={(form) => <RunForm {...form} targets={view.targets} chambers={view.chambers} />}
      save={(body) => revise(run, body)}
      onClose={onClose}
    />
  );
}

export function FilmEditor({ view, film, onClose }: EditorProps & { film: SeriesView['films'][number] }) {
  const revise = useRevise();
  return (
    <RecordEditor
      of={`Film ${film.body.label}`}
      initial={filmDraftOf(film.body)}
      revision={film.revision}
      read={(draft) => {
        const { film: body, faults } = readFilm(draft, {
          runId: film.body.runId,
          rareEarth: view.series.body.rareEarths[0]!,
        });
        return { body, faults };
      }}
      form={(form) => <FilmForm {...form} isRateShown />}
      save={(body) => revise(film, body)}
      onClose={onClose}
    />
  );
}

interface PieceEditorProps extends EditorProps {
  filmId: string;
  /** null: a new piece, under the name proposed */
  piece: SeriesView['pieces'][number] | null;
  proposedLabel: string;
}

export function PieceEditor({ view, filmId, piece, proposedLabel, onClose }: PieceEditorProps) {
  const revise = useRevise();
  const announce = useSayDone();
  return (
    <RecordEditor
      of={piece ? `Piece ${piece.body.label}` : 'New piece'}
      initial={piece ? pieceDraftOf(piece.body) : { ...EMPTY_PIECE, label: proposedLabel }}
      {...(piece ? { revision: piece.revision } : {})}
      read={(draft) => {
        const { piece: body, faults } = readPiece(draft, filmId);
        return { body, faults };
      }}
      form={(form) => <PieceForm {...form} />}
      save={async (body) => {
        if (piece) return revise(piece, body);
        const changeId = newId();
        await createRecord({ kind: 'piece', seriesId: view.series.id, body, changeId });
        announce(`Added piece ${body.label}.`, [changeId]);
      }}
      onClose={onClose}
    />
  );
}

interface TreatmentEditorProps extends EditorProps {
  piece: SeriesView['pieces'][number];
  /** null: a new one */
  treatment: SeriesView['treatments'][number] | null;
}

export function TreatmentEditor({ view, piece, treatment, onClose }: TreatmentEditorProps) {
  const revise = useRevise();
  const announce = useSayDone();
  const earlier = view.treatments.filter(({ body }) => body.pieceId === piece.id).length;
  const initial = (): TreatmentDraft =>
    treatment
      ? treatmentDraftOf(treatment.body)
      : {
          label: `${piece.body.label} treatment ${earlier + 1}`,
          startedAt: '',
          segments: [nextSegment(newId(), undefined)],
          note: '',
        };
  return (
    <RecordEditor
      of={treatment ? `Treatment ${treatment.body.label}` : `New treatment of ${piece.body.label}`}
      initial={initial()}
      {...(treatment ? { revision: treatment.revision } : {})}
      read={(draft) => {
        const { treatment: body, faults } = readTreatment(draft, piece.id);
        return { body, faults };
      }}
      form={(form) => <TreatmentForm {...form} known={view.treatments} />}
      save={async (body) => {
        if (treatment) return revise(treatment, body);
        const changeId = newId();
        await createRecord({ kind: 'treatment', seriesId: view.series.id, body, changeId });
        announce(`Added ${body.label}.`, [changeId]);
      }}
      onClose={onClose}
    />
  );
}
