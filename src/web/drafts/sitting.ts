// All that is recorded in one sitting: a run, its films, their pieces and what was done to them. Every part has its
// record's id from the start, so that a save that broke off can be repeated. Pure.
import type { Film, Piece, Run, Treatment } from '../../records/kinds.ts';
import {
  EMPTY_FILM,
  EMPTY_PIECE,
  type FilmDraft,
  type PieceDraft,
  readFilm,
  readPiece,
} from './film-draft.ts';
import { pieceNames } from './names.ts';
import { EMPTY_RUN, type RunDraft, readRun } from './run-draft.ts';
import { readTreatment, type TreatmentDraft } from './treatment-draft.ts';
import type { Faults } from './typed-numbers.ts';

export interface TreatmentEntry {
  id: string;
  draft: TreatmentDraft;
}
export interface PieceEntry {
  id: string;
  draft: PieceDraft;
  treatments: TreatmentEntry[];
}
export interface FilmEntry {
  id: string;
  draft: FilmDraft;
  pieces: PieceEntry[];
}
export interface Sitting {
  /** films of a run made here, or received from elsewhere, where the run is not recorded */
  origin: 'run' | 'received';
  run: { id: string; draft: RunDraft };
  films: FilmEntry[];
}

type NewId = () => string;

export function emptySitting(newId: NewId): Sitting {
  return {
    origin: 'run',
    run: { id: newId(), draft: EMPTY_RUN },
    films: [{ id: newId(), draft: EMPTY_FILM, pieces: [] }],
  };
}

/** Name of a film: its own, or the run's where it is the only one and has none. */
export function filmLabel(sitting: Sitting, film: FilmEntry): string {
  const own = film.draft.label.trim();
  return own === '' && sitting.origin === 'run' && sitting.films.length === 1
    ? sitting.run.draft.label.trim()
    : own;
}

/**
 * Adds pieces to a film, named after it.
 *
 * @param takenLabels pieces of the series that exist already
 */
export function cutIntoPieces(
  sitting: Sitting,
  film: FilmEntry,
  count: number,
  newId: NewId,
  takenLabels: readonly string[] = [],
): FilmEntry {
  const taken = [...takenLabels, ...film.pieces.map(({ draft }) => draft.label)];
  const added = pieceNames(filmLabel(sitting, film) || 'piece', count, taken).map(
    (label): PieceEntry => ({ id: newId(), draft: { ...EMPTY_PIECE, label }, treatments: [] }),
  );
  return { ...film, pieces: [...film.pieces, ...added] };
}

export type PlannedRecord =
  | { kind: 'run'; id: string; body: Run }
  | { kind: 'film'; id: string; body: Film }
  | { kind: 'piece'; id: string; body: Piece }
  | { kind: 'treatment'; id: string; body: Treatment };

/** Names that the series holds already, by kind. */
export interface TakenLabels {
  runs: readonly string[];
  films: readonly string[];
  pieces: readonly string[];
}

/**
 * The records of a sitting in the order in which they can be written, parents first.
 *
 * @returns faults by `id.field`; to be written only where there are none
 */
export function plannedRecords(
  sitting: Sitting,
  rareEarth: string,
  taken: TakenLabels,
): { records: PlannedRecord[]; faults: Faults } {
  const records: PlannedRecord[] = [];
  const faults: Faults = {};
  const add = (id: string, found: Faults) => {
    for (const [field, fault] of Object.entries(found)) faults[`${id}.${field}`] = fault;
  };
  const labels = {
    runs: new Set(taken.runs),
    films: new Set(taken.films),
    pieces: new Set(taken.pieces),
  };
  const claim = (kind: keyof typeof labels, id: string, label: string) => {
    if (label !== '' && labels[kind].has(label))
      faults[`${id}.label`] = `Found ${label}, which is taken; expected a name of its own.`;
    labels[kind].add(label);
  };
  const runId = sitting.origin === 'run' ? sitting.run.id : null;
  if (runId !== null) {
    const { run, faults: found } = readRun(sitting.run.draft);
    add(runId, found);
    claim('runs', runId, run.label);
    records.push({ kind: 'run', id: runId, body: run });
  }
  for (const film of sitting.films) {
    const draft = { ...film.draft, label: filmLabel(sitting, film) };
    const { film: body, faults: found } = readFilm(draft, { runId, rareEarth });
    add(film.id, found);
    claim('films', film.id, body.label);
    records.push({ kind: 'film', id: film.id, body });
    for (const piece of film.pieces) {
      const { piece: pieceBody, faults: pieceFaults } = readPiece(piece.draft, film.id);
      add(piece.id, pieceFaults);
      claim('pieces', piece.id, pieceBody.label);
      records.push({ kind: 'piece', id: piece.id, body: pieceBody });
      for (const { id, draft: path } of piece.treatments) {
        const { treatment, faults: pathFaults } = readTreatment(path, piece.id);
        add(id, pathFaults);
        records.push({ kind: 'treatment', id, body: treatment });
      }
    }
  }
  return { records, faults };
}
