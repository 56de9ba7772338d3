// Files on their way into the records: what each still needs, and which are of one kind, so that a question is asked once
// a kind. Pure.
import type { FileLook, ImportRequest, Problem } from '../api/contract.ts';
import type { Facts } from '../records/criteria.ts';
import type { ColumnMapping, MeasurementSettings, ReadingAnswers } from '../records/kinds.ts';
import { missingSettings, settingField } from '../records/measurement-settings.ts';
import type { SeriesView, VerdictSummary } from '../records/series-view.ts';

export type FileStep = 'sending' | 'looking' | 'waiting' | 'reading' | 'read' | 'failed' | 'cancelled';

/** What came of a file that was read. */
export interface ReadResult {
  measurementId: string;
  changeId: string;
  pieceId: string;
  stateTreatmentId: string | null;
  facts: Facts;
  flagCount: number;
  failure: { code: string; message: string } | null;
  /** the verdict on the piece before; null: it was not judged */
  before: VerdictSummary['outcome'] | null;
}

export interface WaitingFile {
  readonly key: string;
  readonly fileName: string;
  readonly bytes: number;
  readonly step: FileStep;
  /** of the bytes, 0 to 1 */
  readonly sentShare: number;
  readonly sha256: string | null;
  readonly look: FileLook | null;
  readonly pieceId: string | null;
  readonly pieceNote: string;
  readonly stateTreatmentId: string | null;
  readonly stateNote: string;
  /** stated for this file alone; goes before what the file says */
  readonly ownSettings: MeasurementSettings;
  /** label of the measurement that these bytes were already read as */
  readonly readBefore: { measurementId: string; label: string } | null;
  readonly isReadAgain: boolean;
  /** what was answered after the reader refused the text */
  readonly reading: ReadingAnswers | null;
  readonly problem: Problem | null;
  readonly result: ReadResult | null;
}

/** What a person answered for every file of one kind. */
export interface KindAnswer {
  readonly mapping: ColumnMapping;
  /** fill in what a file does not say itself */
  readonly settings: MeasurementSettings;
  readonly isRemembered: boolean;
}
export type KindAnswers = Readonly<Record<string, KindAnswer>>;

/** What makes two files alike: the shapes of all their blocks. */
export function shapeOf(look: FileLook): string {
  return look.blocks.map(({ shape }) => shape).join(' + ');
}

/** The columns to read a file by: what was answered for its kind, else what the look found; null if unknown. */
export function mappingOf({ look }: WaitingFile, answers: KindAnswers): ColumnMapping | null {
  return look ? (answers[shapeOf(look)]?.mapping ?? look.mapping) : null;
}

/** All that is stated: for this file, then in the file, then for its kind. */
export function settingsOf({ look, ownSettings }: WaitingFile, answers: KindAnswers): MeasurementSettings {
  if (!look) return ownSettings;
  return { ...answers[shapeOf(look)]?.settings, ...look.settings, ...ownSettings };
}

/** What a file waits for. `kind` is answered for all of its kind at once, the others for itself. */
export type OpenQuestion = { about: 'kind' | 'settings' | 'piece' | 'again'; sentence: string };

export function openQuestions(file: WaitingFile, answers: KindAnswers): OpenQuestion[] {
  const { look } = file;
  if (!look || file.step !== 'waiting') return [];
  const questions: OpenQuestion[] = [];
  const mapping = mappingOf(file, answers);
  const isAnswered = answers[shapeOf(look)] !== undefined;
  if (!mapping) questions.push({ about: 'kind', sentence: 'Which column is what?' });
  else if (!isAnswered && look.doubts.length > 0) {
    questions.push(...look.doubts.map((sentence) => ({ about: 'kind' as const, sentence })));
  }
  if (mapping) {
    const missing = missingSettings(
      mapping.kind,
      settingsOf(file, answers),
      mapping.columns.map(({ role }) => role),
    ).map((name) => settingField(name).label.toLowerCase());
    if (missing.length > 0)
      questions.push({ about: 'settings', sentence: `Not stated: ${missing.join(', ')}.` });
  }
  if (file.pieceId === null) questions.push({ about: 'piece', sentence: 'Of which piece?' });
  if (file.readBefore && !file.isReadAgain)
    questions.push({ about: 'again', sentence: `Already read as ${file.readBefore.label}.` });
  return questions;
}

export function isReady(file: WaitingFile, answers: KindAnswers): boolean {
  return file.step === 'waiting' && file.look !== null && openQuestions(file, answers).length === 0;
}

export interface FileKind {
  readonly shape: string;
  readonly files: readonly WaitingFile[];
  /** each doubt once, with the number of files that raise it */
  readonly doubts: readonly { sentence: string; count: number }[];
  /** some of them wait for an answer */
  readonly isAsked: boolean;
  /** what is asked is about the columns, not only about settings that the files do not state */
  readonly asksColumns: boolean;
}

/** The waiting files by kind; those with a question first, then the largest. */
export function kindsOf(files: readonly WaitingFile[], answers: KindAnswers): FileKind[] {
  const byShape = new Map<string, WaitingFile[]>();
  for (const file of files) {
    if (file.step !== 'waiting' || !file.look) continue;
    const shape = shapeOf(file.look);
    byShape.set(shape, [...(byShape.get(shape) ?? []), file]);
  }
  const kinds = [...byShape].map(([shape, alike]): FileKind => {
    const counts = new Map<string, number>();
    let isAsked = false;
    let asksColumns = false;
    for (const file of alike) {
      for (const { about, sentence } of openQuestions(file, answers)) {
        if (about !== 'kind' && about !== 'settings') continue;
        isAsked = true;
        asksColumns ||= about === 'kind';
        counts.set(sentence, (counts.get(sentence) ?? 0) + 1);
      }
    }
    const doubts = [...counts].map(([sentence, count]) => ({ sentence, count }));
    return { shape, files: alike, doubts, isAsked, asksColumns };
  });
  return kinds.sort(
    (one, other) => Number(other.isAsked) - Number(one.isAsked) || other.files.length - one.files.length,
  );
}

/** How many files are at which point. */
export function fileCounts(files: readonly WaitingFile[], answers: KindAnswers) {
  const counts = { coming: 0, ready: 0, asked: 0, reading: 0, read: 0, failed: 0, cancelled: 0 };
  for (const file of files) {
    if (file.step === 'sending' || file.step === 'looking') counts.coming++;
    else if (file.step === 'waiting') counts[isReady(file, answers) ? 'ready' : 'asked']++;
    else counts[file.step]++;
  }
  return counts;
}

/**
 * What the server is asked to read.
 * @returns null while a question is open
 */
export function importRequestOf(
  file: WaitingFile,
  answers: KindAnswers,
  ids: { id: string; changeId: string; seriesId: string },
): ImportRequest | null {
  const mapping = mappingOf(file, answers);
  if (!mapping || !file.look || file.sha256 === null || file.pieceId === null || !isReady(file, answers)) {
    return null;
  }
  return {
    ...ids,
    pieceId: file.pieceId,
    stateTreatmentId: file.stateTreatmentId,
    fileSha256: file.sha256,
    fileName: file.fileName,
    mapping: file.reading ? { ...mapping, reading: file.reading } : mapping,
    settings: settingsOf(file, answers),
    isRemembered: answers[shapeOf(file.look)]?.isRemembered ?? file.look.mappingIs !== 'remembered',
  };
}

/** The verdict on a piece in a state; null if it was not judged. */
export function outcomeOf(
  view: SeriesView | null,
  pieceId: string,
  stateTreatmentId: string | null,
): VerdictSummary['outcome'] | null {
  const found = view?.verdicts.find(
    (each) => each.pieceId === pieceId && each.stateTreatmentId === stateTreatmentId,
  );
  return found?.outcome ?? null;
}
