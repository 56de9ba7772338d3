// `judge`: the verdict on pieces, reason by reason; its exit code is the verdict.
import { type FailedReduction, judgePieces } from '../jobs/judge-pieces.ts';
import { newId } from '../logbook/ids.ts';
import type { StoredRecord } from '../records/kinds.ts';
import type { SeriesView } from '../records/series-view.ts';
import type { VerdictOutcome } from '../science/learning/facts.ts';
import { choosePiece } from './choose.ts';
import { type Command, SERIES_OPTION } from './command.ts';
import { CliError, EXIT, type ExitCode } from './errors.ts';
import { withHome } from './home.ts';
import { viewOfPiece, withNotice } from './series-records.ts';
import { plainText } from './text-table.ts';

export interface VerdictAnswer {
  outcome: VerdictOutcome;
  reasons: { outcome: VerdictOutcome; sentence: string; wouldDecide: string | null }[];
  flags: { code: string; message: string }[];
}

/** Any that falls short, else any that cannot be judged, else all pass. */
function worstExit(outcomes: readonly VerdictOutcome[]): ExitCode {
  if (outcomes.includes('falls short')) return EXIT.fallsShort;
  return outcomes.includes('cannot say') ? EXIT.cannotSay : EXIT.passes;
}

function verdictText(view: SeriesView, { body }: StoredRecord<'verdict'>): string {
  const piece = view.pieces.find(({ id }) => id === body.pieceId)!;
  const treatment = view.treatments.find(({ id }) => id === body.stateTreatmentId);
  const { outcome, reasons, flags } = body.response as VerdictAnswer;
  const state = treatment ? `after ${treatment.body.label}` : 'as grown';
  return [
    plainText(`${piece.body.label}, ${state}: ${outcome}`),
    ...reasons.map(({ outcome: said, sentence, wouldDecide }) =>
      plainText(`  ${said.padEnd('falls short'.length)}  ${sentence}${wouldDecide ? ` ${wouldDecide}` : ''}`),
    ),
    ...flags.map(({ message }) => plainText(`  note: ${message}`)),
  ].join('\n');
}

const failedText = ({ fileName, message }: FailedReduction): string =>
  `${fileName} could not be reduced again: ${message}`;

export const JUDGE: Command = {
  name: 'judge',
  summary: 'Judge pieces by the criteria of their series and keep the verdicts.',
  usage: ['judge [--series LABEL|ID] [--piece LABEL|ID]'],
  options: {
    series: SERIES_OPTION,
    piece: { takes: 'text', placeholder: 'LABEL|ID', says: 'one piece; every measured piece if left out' },
  },
  positionals: [0, 0],
  notes: [
    'What is old among the reductions is reduced again first, so that a corrected thickness counts.',
    'Each state of a piece that was measured gets a verdict. The exit code speaks of the pieces as they are now, in their',
    'last measured state: 1 if any falls short, else 3 if any cannot be judged, else 0.',
  ],
  run: (call) =>
    withHome(async (bench) => {
      const wanted = call.text('piece');
      const view = await viewOfPiece(bench.store.read, call.text('series'), wanted);
      const piece = wanted === undefined ? null : choosePiece(view.pieces as StoredRecord<'piece'>[], wanted);
      const { verdicts, failedReductions } = await judgePieces(bench, {
        seriesId: view.series.id,
        changeId: newId(),
        pieceIds: piece ? [piece.id] : null,
      });
      if (verdicts.length === 0) {
        const of = piece ? `the piece ${piece.body.label}` : `any piece of ${view.series.body.label}`;
        const failed = failedReductions.map(failedText).join(' ');
        throw new CliError(
          'NOT_MEASURED',
          `Nothing is known of ${of} yet, so there is nothing to judge.${failed && ` ${failed}`}`,
        );
      }
      const last = new Map(
        verdicts.map(({ body }) => [body.pieceId, (body.response as VerdictAnswer).outcome]),
      );
      return {
        exitCode: worstExit([...last.values()]),
        json: verdicts.map(({ id, body }) => ({
          id,
          pieceId: body.pieceId,
          piece: view.pieces.find((each) => each.id === body.pieceId)?.body.label ?? null,
          state: view.treatments.find((each) => each.id === body.stateTreatmentId)?.body.label ?? null,
          computation: body.computation,
          version: body.version,
          response: body.response,
        })),
        text: withNotice(
          view,
          [
            ...verdicts.map((verdict) => verdictText(view, verdict)),
            ...failedReductions.map((failed) => plainText(failedText(failed))),
          ].join('\n\n'),
        ),
      };
    }),
};
