// What the options of `import` say: settings, kind and columns.
import { readFile } from 'node:fs/promises';
import { issueSentences } from '../computations/schema-issues.ts';
import {
  type ColumnMapping,
  columnMappingSchema,
  MEASUREMENT_KINDS,
  type MeasurementKind,
  type MeasurementSettings,
  measurementSettingsSchema,
  type ReadingAnswers,
  readingAnswersSchema,
} from '../records/kinds.ts';
import { nearestNames } from '../runner/find-computation.ts';
import type { CommandCall } from './command.ts';
import { CliError } from './errors.ts';

/** What one of each unit is in the unit that ends a setting's name. */
const UNITS_OF_ENDING: readonly [ending: string, units: Readonly<Record<string, number>>][] = [
  ['VPerM', { 'V/m': 1, 'uV/cm': 1e-4, 'µV/cm': 1e-4 }],
  ['Angstrom', { angstrom: 1, Å: 1, nm: 10 }],
  ['Deg', { deg: 1, '°': 1 }],
  ['M', { m: 1, cm: 1e-2, mm: 1e-3, um: 1e-6, µm: 1e-6, nm: 1e-9 }],
  ['K', { K: 1, mK: 1e-3 }],
  ['T', { T: 1, mT: 1e-3 }],
  ['Share', { '1': 1, '%': 1e-2 }],
];

/**
 * A number of a setting, plain or with its unit: `0.002` and `2 mm` are the same tap distance.
 *
 * @throws CliError OPTION_VALUE naming the units that can be read
 */
function settingNumber(name: string, text: string): number {
  const units = UNITS_OF_ENDING.find(([ending]) => name.endsWith(ending))?.[1] ?? {};
  const match = /^([-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?)\s*(\S*)$/i.exec(text);
  const factor = match?.[2] === '' ? 1 : units[match?.[2]?.replace('μ', 'µ') ?? ''];
  if (!match || factor === undefined) {
    const [plain, ...others] = Object.keys(units);
    throw new CliError(
      'OPTION_VALUE',
      `--set ${name}=${text.slice(0, 60)}: expected a plain number in ${plain}, or one with its unit: ${[plain, ...others].join(', ')}.`,
    );
  }
  return Number((Number(match[1]) * factor).toPrecision(12));
}

const SETTING_NAMES = Object.keys(measurementSettingsSchema.shape);

/**
 * `--set temperatureK=77 --set anode=Cu` as settings.
 *
 * @throws CliError OPTION_VALUE naming the setting, its value and its range
 */
export function settingsFrom(call: CommandCall): MeasurementSettings {
  const stated: Record<string, unknown> = {};
  for (const text of call.texts('set')) {
    const at = text.indexOf('=');
    const name = at < 0 ? text : text.slice(0, at);
    const value = at < 0 ? '' : text.slice(at + 1).trim();
    if (!SETTING_NAMES.includes(name)) {
      throw new CliError(
        'OPTION_VALUE',
        `--set ${text.slice(0, 100)}: no setting is called '${name.slice(0, 60)}'; expected NAME=VALUE. Near it: ${nearestNames(name, SETTING_NAMES).join(', ')}.`,
      );
    }
    if (value === '' || name in stated) {
      const fault = value === '' ? 'has no value' : 'is given twice';
      throw new CliError(
        'OPTION_VALUE',
        `--set ${text.slice(0, 100)}: ${name} ${fault}; expected ${name}=VALUE once.`,
      );
    }
    stated[name] = name === 'anode' || name === 'pressureKind' ? value : settingNumber(name, value);
  }
  const parsed = measurementSettingsSchema.safeParse(stated);
  if (!parsed.success)
    throw new CliError('OPTION_VALUE', `--set ${issueSentences(parsed.error, stated).join('; ')}.`);
  return parsed.data;
}

/** @throws CliError OPTION_VALUE */
export function kindFrom(call: CommandCall): MeasurementKind | null {
  const text = call.text('kind');
  if (text === undefined) return null;
  const kind = MEASUREMENT_KINDS.find((each) => each === text.toLowerCase());
  if (!kind) {
    throw new CliError(
      'OPTION_VALUE',
      `--kind is '${text.slice(0, 60)}', expected one of: ${MEASUREMENT_KINDS.join(', ')}.`,
    );
  }
  return kind;
}

/**
 * `--whole-rows`, `--decimal-mark ,`, `--date-order 'day first'` and `--delimiter semicolon`: what the text of a file leaves open.
 *
 * @throws CliError OPTION_VALUE
 */
export function readingFrom(call: CommandCall): ReadingAnswers | undefined {
  const stated = {
    ...(call.text('delimiter') === undefined ? {} : { delimiter: call.text('delimiter') }),
    ...(call.text('decimal-mark') === undefined ? {} : { decimalMark: call.text('decimal-mark') }),
    ...(call.text('date-order') === undefined ? {} : { dateOrder: call.text('date-order') }),
    ...(call.flag('whole-rows') ? { wholeRows: true } : {}),
  };
  if (Object.keys(stated).length === 0) return undefined;
  const parsed = readingAnswersSchema.safeParse(stated);
  if (!parsed.success)
    throw new CliError('OPTION_VALUE', `${issueSentences(parsed.error, stated).join('; ')}.`);
  return parsed.data;
}

/** @throws CliError OPTION_VALUE, FILE_UNREADABLE */
export async function mappingFrom(call: CommandCall): Promise<ColumnMapping | null> {
  const path = call.text('mapping');
  if (path === undefined) return null;
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    throw new CliError('FILE_UNREADABLE', `--mapping ${path}: ${(error as Error).message}.`);
  }
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    throw new CliError('OPTION_VALUE', `--mapping ${path} is no JSON: ${(error as SyntaxError).message}.`);
  }
  const parsed = columnMappingSchema.safeParse(value);
  if (!parsed.success) {
    throw new CliError(
      'OPTION_VALUE',
      `--mapping ${path}: ${issueSentences(parsed.error, value).join('; ')}.`,
    );
  }
  return parsed.data;
}
