// `import`: reads measurement files in by the same path as the pages. A doubt is asked and nothing is kept of that file.
import { open } from 'node:fs/promises';
import { basename } from 'node:path';
import { MAX_FILE_BYTES } from '../api/contract.ts';
import { logDeviationSentences } from '../charts/measurement/chamber-log.ts';
import { conditionText, FACT_TRADE_UNITS, factText } from '../charts/trade-text.ts';
import { type ImportAnswer, importFile } from '../jobs/import-file.ts';
import { lookAtUpload } from '../jobs/look-at-upload.ts';
import type { Workbench } from '../jobs/workbench.ts';
import { newId } from '../logbook/ids.ts';
import type {
  ColumnMapping,
  MeasurementKind,
  MeasurementSettings,
  ReadingAnswers,
  StoredRecord,
} from '../records/kinds.ts';
import type { SeriesView } from '../records/series-view.ts';
import { stateOf, treatmentsOf } from '../records/state-of-file.ts';
import { choosePiece, chooseTreatment } from './choose.ts';
import { type Command, SERIES_OPTION } from './command.ts';
import { CliError, EXIT, problemOf } from './errors.ts';
import { withHome } from './home.ts';
import { kindFrom, mappingFrom, readingFrom, settingsFrom } from './import-options.ts';
import { openQuestions, type Question } from './import-questions.ts';
import { viewOfPiece, withNotice } from './series-records.ts';
import { plainText } from './text-table.ts';

/** What the options say about every file. */
interface Stated {
  readonly settings: MeasurementSettings;
  readonly kind: MeasurementKind | null;
  readonly mapping: ColumnMapping | null;
  readonly piece: StoredRecord<'piece'> | null;
  readonly state: string | undefined;
  readonly isAgain: boolean;
  readonly reading: ReadingAnswers | undefined;
}

interface Problem {
  readonly code: string;
  readonly sentence: string;
  readonly remedy: string;
}

type FileOutcome = { readonly file: string } & (
  | {
      readonly outcome: 'kept';
      readonly piece: string;
      readonly state: string;
      readonly stateNote: string;
      readonly warnings: readonly string[];
      readonly answer: ImportAnswer;
      readonly changeId: string;
    }
  | { readonly outcome: 'asked'; readonly questions: readonly Question[] }
  | { readonly outcome: 'refused'; readonly problem: Problem }
);

async function sendFile(bench: Workbench, path: string): Promise<string> {
  try {
    const handle = await open(path);
    if (!(await handle.stat()).isFile()) {
      await handle.close();
      throw new Error('it is no file');
    }
    const { sha256 } = await bench.uploads.take(handle.createReadStream(), MAX_FILE_BYTES);
    return sha256;
  } catch (error) {
    if (error instanceof Error && 'sentence' in error) throw error;
    throw new CliError('FILE_UNREADABLE', `${path} cannot be read: ${(error as Error).message}.`);
  }
}

/** The state that --state names; else the one the file speaks of. */
function stateFor(
  view: SeriesView,
  piece: StoredRecord<'piece'>,
  stated: string | undefined,
  fileName: string,
  headerLines: readonly string[],
): { stateTreatmentId: string | null; stateNote: string } {
  const treatments = treatmentsOf(view, piece.id);
  if (stated === undefined) return stateOf(treatments, fileName, headerLines);
  if (stated.toLowerCase() === 'as grown') return { stateTreatmentId: null, stateNote: 'stated' };
  const found = chooseTreatment(treatments as StoredRecord<'treatment'>[], stated, piece.body.label);
  return { stateTreatmentId: found.id, stateNote: 'stated' };
}

async function readIn(
  bench: Workbench,
  view: SeriesView,
  stated: Stated,
  path: string,
): Promise<FileOutcome> {
  const seriesId = view.series.id;
  const fileName = basename(path);
  const sha256 = await sendFile(bench, path);
  const look = await lookAtUpload(bench, { sha256, fileName, seriesId, reading: stated.reading });
  const found = stated.mapping ?? look.mapping;
  const mapping = found && stated.reading ? { ...found, reading: stated.reading } : found;
  const settings = { ...look.settings, ...stated.settings };
  const pieceId = stated.piece?.id ?? look.pieceId;
  const measurements = await bench.store.read.list('measurement', { seriesId });
  const questions = openQuestions({
    look,
    mapping,
    isMappingStated: stated.mapping !== null,
    kind: stated.kind,
    settings,
    pieceId,
    readBefore: measurements.find(({ body }) => body.fileSha256 === sha256)?.body.label ?? null,
    isAgain: stated.isAgain,
  });
  if (questions.length > 0 || !mapping || pieceId === null)
    return { file: path, outcome: 'asked', questions };
  const piece = view.pieces.find(({ id }) => id === pieceId) as StoredRecord<'piece'>;
  const { stateTreatmentId, stateNote } = stateFor(view, piece, stated.state, fileName, look.headerLines);
  const changeId = newId();
  const answer = await importFile(bench, {
    id: newId(),
    changeId,
    seriesId,
    pieceId,
    stateTreatmentId,
    fileSha256: sha256,
    fileName,
    mapping,
    settings,
    isRemembered: stated.mapping !== null || look.mappingIs !== 'remembered',
  });
  const state = view.treatments.find(({ id }) => id === stateTreatmentId)?.body.label;
  return {
    file: path,
    outcome: 'kept',
    piece: piece.body.label,
    state: state === undefined ? 'as grown' : `after ${state}`,
    stateNote,
    warnings: look.warnings,
    answer,
    changeId,
  };
}

function keptText(kept: Extract<FileOutcome, { outcome: 'kept' }>): string[] {
  const { measurement, analysis } = kept.answer;
  const { facts, failure } = analysis.body;
  const flags = (analysis.body.response as { flags?: { message: string }[] } | null)?.flags ?? [];
  const isLog = measurement.body.mapping.kind === 'chamber log' && !failure;
  const deviations = (isLog && logDeviationSentences(analysis.body.response)) || [];
  return [
    `${kept.file}: ${measurement.body.mapping.kind} of ${kept.piece}, ${kept.state} (${kept.stateNote})`,
    ...facts.numbers.map((fact) => {
      const at = conditionText(fact.at);
      return `  ${FACT_TRADE_UNITS[fact.name].label}${at ? ` at ${at}` : ''}: ${factText(fact)}`;
    }),
    ...deviations.map((sentence) => `  ${sentence}`),
    ...facts.phases.map(({ phase, answer }) => `  ${phase}: ${answer}`),
    ...(failure ? [`  kept, but not reduced: ${failure.code}: ${failure.message}`] : []),
    ...[...kept.warnings, ...measurement.body.warnings, ...flags.map(({ message }) => message)].map(
      (message) => `  note: ${message}`,
    ),
    `  to take it back: peritect undo ${kept.changeId}`,
  ];
}

function outcomeText(outcome: FileOutcome): string {
  const lines =
    outcome.outcome === 'kept'
      ? keptText(outcome)
      : outcome.outcome === 'asked'
        ? [
            `${outcome.file}: not read in; nothing of it was kept.`,
            ...outcome.questions.flatMap(({ sentence, answer }) => [`  ${sentence}`, `    Add ${answer}`]),
          ]
        : [
            `${outcome.file}: not read in; nothing of it was kept.`,
            `  ${outcome.problem.code}: ${outcome.problem.sentence}`,
            `    ${outcome.problem.remedy}`,
          ];
  return lines.map(plainText).join('\n');
}

function outcomeJson(outcome: FileOutcome): unknown {
  if (outcome.outcome !== 'kept') return outcome;
  const { answer, ...rest } = outcome;
  return {
    ...rest,
    measurement: answer.measurement,
    computation: answer.analysis.body.computation,
    version: answer.analysis.body.version,
    facts: answer.analysis.body.facts,
    failure: answer.analysis.body.failure,
  };
}

export const IMPORT: Command = {
  name: 'import',
  summary: 'Read measurement files in, and print what they give.',
  usage: ['import FILE... [--piece LABEL|ID] [--series LABEL|ID] [--state TREATMENT] [--set NAME=VALUE]'],
  options: {
    piece: {
      takes: 'text',
      placeholder: 'LABEL|ID',
      says: 'the piece measured; if left out, the one the file name holds',
    },
    series: SERIES_OPTION,
    state: {
      takes: 'text',
      placeholder: 'TREATMENT',
      says: "the treatment it was measured after, or 'as grown'; if left out, as the file says, else the last",
    },
    kind: { takes: 'text', placeholder: 'KIND', says: 'what was measured, where the columns leave it open' },
    mapping: {
      takes: 'text',
      placeholder: 'FILE',
      says: 'JSON file that says which column is what, in which unit',
    },
    set: {
      takes: 'texts',
      placeholder: 'NAME=VALUE',
      says: 'temperatureK=77, tapDistanceM=0.002 or tapDistanceM=2mm, anode=Cu ...',
    },
    again: { takes: 'nothing', says: 'read bytes in that were read in before' },
    delimiter: {
      takes: 'text',
      placeholder: 'NAME',
      says: 'what parts the columns: tab, semicolon, comma or blanks; if left out, found',
    },
    'decimal-mark': { takes: 'text', placeholder: 'MARK', says: "'.' or ','; if left out, found" },
    'date-order': {
      takes: 'text',
      placeholder: 'ORDER',
      says: "'day first' or 'month first', where dates such as 01/03/2026 leave it open",
    },
    'whole-rows': {
      takes: 'nothing',
      says: 'leave rows out that have too few or too many columns, instead of refusing the file',
    },
  },
  positionals: [1, Number.POSITIVE_INFINITY],
  notes: [
    'A file that leaves a question open is not read in: the question is printed with the option that answers it, the',
    'other files are read in all the same, and the exit code is 2. `peritect judge` then judges by the new numbers.',
  ],
  async run(call) {
    const settings = settingsFrom(call);
    const kind = kindFrom(call);
    const mapping = await mappingFrom(call);
    const reading = readingFrom(call);
    return withHome(async (bench) => {
      const wanted = call.text('piece');
      const view = await viewOfPiece(
        bench.store.read,
        call.text('series'),
        wanted,
        call.positionals.map((path) => basename(path)),
      );
      const stated: Stated = {
        settings,
        kind,
        mapping,
        piece: wanted === undefined ? null : choosePiece(view.pieces as StoredRecord<'piece'>[], wanted),
        state: call.text('state'),
        isAgain: call.flag('again'),
        reading,
      };
      const outcomes: FileOutcome[] = [];
      for (const path of call.positionals) {
        try {
          outcomes.push(await readIn(bench, view, stated, path));
        } catch (error) {
          const { code, sentence, remedy, exitCode } = problemOf(error);
          if (exitCode === EXIT.fault) throw error;
          outcomes.push({ file: path, outcome: 'refused', problem: { code, sentence, remedy } });
        }
      }
      const isWhole = outcomes.every(({ outcome }) => outcome === 'kept');
      for (const outcome of outcomes) if (outcome.outcome !== 'kept') call.progress(outcomeText(outcome));
      const kept = outcomes.filter(({ outcome }) => outcome === 'kept').map(outcomeText);
      return {
        exitCode: isWhole ? EXIT.passes : EXIT.badInput,
        json: outcomes.map(outcomeJson),
        text: kept.length > 0 ? withNotice(view, kept.join('\n\n')) : '',
      };
    });
  },
};
