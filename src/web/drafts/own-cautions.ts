// Cautions of the user's own powders beside those of the tables. Pure.
import type { Powder } from '../../records/kinds.ts';
import { ownPowdersOf } from './powder-rows.ts';

interface Caution {
  matter: string;
  statement: string;
  codes: readonly string[];
  source: string;
}

/**
 * Cautions of a sheet: what the user entered for a powder first, then what the tables say. That the tables know nothing of a powder
 * is left out where the user's entry does.
 */
export function sheetCautions(
  formulas: readonly string[],
  powders: readonly { readonly body: Powder }[],
  known: readonly Caution[],
): Caution[] {
  const own = new Map<string, Caution>();
  const told = new Set<string>();
  for (const formula of formulas) {
    for (const { body } of ownPowdersOf(formula, powders)) {
      if (body.caution === '' && body.hazardCodes.length === 0) continue;
      told.add(formula);
      own.set(body.label, {
        matter: body.label === body.formula ? body.label : `${body.label} (${body.formula})`,
        statement: body.caution || 'Hazard statements only.',
        codes: body.hazardCodes,
        source: `entered here: ${body.source}`,
      });
    }
  }
  return [
    ...own.values(),
    ...known.filter(({ matter, source }) => source !== 'not established' || !told.has(matter)),
  ];
}
