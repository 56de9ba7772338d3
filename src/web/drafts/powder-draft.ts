// A powder of the user's own library as it is typed and as it is kept. Pure.
import type { Powder } from '../../records/kinds.ts';
import { cationsOfFormula, formulaFault, ownPowdersOf } from './powder-rows.ts';
import { type Faults, FieldReader } from './typed-numbers.ts';

export interface PowderDraft {
  label: string;
  formula: string;
  drying: string;
  /** one after another: H302, H315 */
  hazardCodes: string;
  caution: string;
  source: string;
  note: string;
}

export const EMPTY_POWDER: PowderDraft = {
  label: '',
  formula: '',
  drying: '',
  hazardCodes: '',
  caution: '',
  source: '',
  note: '',
};

export function powderDraftOf(powder: Powder): PowderDraft {
  return { ...powder, hazardCodes: powder.hazardCodes.join(', ') };
}

const CODE = /^(?:EUH|H)[0-9]{3}[A-Za-z]{0,3}$/;

/** @param others powders of the library, without the one that is edited */
export function readPowder(
  draft: PowderDraft,
  others: readonly { readonly body: Powder }[],
): { body: Powder; faults: Faults } {
  const read = new FieldReader();
  const formula = read.name('formula', draft.formula, 'its formula, such as Ba(OH)2', 100);
  const fault = formula === '' ? undefined : formulaFault(formula);
  if (fault) read.faults.formula = fault;
  else if (formula !== '' && cationsOfFormula(formula).length === 0)
    read.faults.formula = `Found ${formula}, which holds no cation; expected a compound that brings one.`;
  else {
    const twin = ownPowdersOf(formula, others)[0];
    if (twin)
      read.faults.formula = `Found ${formula}, which stands in the library as ${twin.body.label}; expected another compound, or edit that one.`;
  }
  const hazardCodes = draft.hazardCodes
    .split(/[\s,;+]+/)
    .filter(Boolean)
    .map((code) => code.toUpperCase().slice(0, 4) + code.slice(4));
  const wrong = hazardCodes.find((code) => !CODE.test(code));
  if (wrong)
    read.faults.hazardCodes = `Found '${wrong.slice(0, 20)}'; expected hazard statements such as H302, H315 or EUH066.`;
  if (hazardCodes.length > 20)
    read.faults.hazardCodes = `Found ${hazardCodes.length} codes; expected at most 20.`;
  const caution = draft.caution.trim();
  const source = draft.source.trim();
  if ((hazardCodes.length > 0 || caution !== '') && source === '')
    read.faults.source =
      'Found nothing; expected where the codes and the caution stand, such as the safety data sheet with its date.';
  return {
    body: {
      label: read.name('label', draft.label, 'a name, such as barium hydroxide'),
      formula,
      drying: draft.drying.trim(),
      hazardCodes,
      caution,
      source,
      note: draft.note,
    },
    faults: read.faults,
  };
}
