// What a file leaves open before it can be read in, each with the option that answers it. Pure.
import type { FileLook } from '../api/contract.ts';
import type { ColumnMapping, MeasurementKind, MeasurementSettings } from '../records/kinds.ts';
import { missingSettings, settingField } from '../records/measurement-settings.ts';

export interface Question {
  readonly about: 'columns' | 'kind' | 'settings' | 'piece' | 'again';
  readonly sentence: string;
  /** what to add to the command */
  readonly answer: string;
}

export interface FileSituation {
  readonly look: FileLook;
  /** by which it would be read; null: unknown */
  readonly mapping: ColumnMapping | null;
  readonly isMappingStated: boolean;
  readonly kind: MeasurementKind | null;
  readonly settings: MeasurementSettings;
  readonly pieceId: string | null;
  /** label of the measurement that these bytes were read as before */
  readonly readBefore: string | null;
  readonly isAgain: boolean;
}

export function openQuestions(file: FileSituation): Question[] {
  const { look, mapping, kind } = file;
  const questions: Question[] = [];
  if (!mapping || (!file.isMappingStated && look.doubts.length > 0)) {
    const sentences = look.doubts.length > 0 ? look.doubts : ['Which column is what?'];
    const start = mapping ? ` It holds: ${JSON.stringify(mapping)}` : '';
    for (const sentence of sentences) {
      questions.push({
        about: 'columns',
        sentence,
        answer: `--mapping FILE, a JSON file that names kind, block and columns, the first of each as 0.${start}`,
      });
    }
  } else if (kind !== null && kind !== mapping.kind) {
    questions.push({
      about: 'kind',
      sentence: `Its columns are those of a measurement of the kind '${mapping.kind}', but --kind says '${kind}'. Which is it?`,
      answer: `--kind '${mapping.kind}', or --mapping FILE with the columns of a measurement of the kind '${kind}'`,
    });
  }
  const asked = kind ?? mapping?.kind;
  for (const name of asked
    ? missingSettings(
        asked,
        file.settings,
        mapping?.columns.map(({ role }) => role),
      )
    : []) {
    questions.push({
      about: 'settings',
      sentence: `${settingField(name).label} is not stated in the file. What was it?`,
      answer: `--set ${name}=VALUE`,
    });
  }
  if (file.pieceId === null)
    questions.push({ about: 'piece', sentence: look.pieceNote, answer: '--piece LABEL' });
  if (file.readBefore !== null && !file.isAgain) {
    questions.push({
      about: 'again',
      sentence: `The same bytes were read in before, as ${file.readBefore}. Read them in once more?`,
      answer: '--again',
    });
  }
  return questions;
}
