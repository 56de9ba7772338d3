// The measured composition of a piece in a state, as it is typed and as it is kept among its typed facts. Pure.
import type { CationRatio } from '../../records/common.ts';
import type { TypedFacts } from '../../records/kinds.ts';
import { isCation, isElement } from '../../science/matter/elements.ts';
import { type Faults, FieldReader, numberText } from './typed-numbers.ts';

type Method = NonNullable<TypedFacts['composition']>['method'];
export const COMPOSITION_METHODS: readonly Method[] = ['EDX', 'WDS', 'ICP-OES', 'RBS', 'XPS', 'other'];

export interface ElementRow {
  key: string;
  element: string;
  amount: string;
  /** standard uncertainty; `''`: by the relative one */
  uncertainty: string;
}

export interface CompositionDraft {
  rows: ElementRow[];
  /** one for all elements without their own, % */
  relativePercent: string;
  method: Method;
  standard: string;
  source: string;
  note: string;
}

/** Nothing measured yet: a row for each element that the film is meant to hold. */
export function emptyComposition(cations: CationRatio | null): CompositionDraft {
  const elements = Object.keys(cations ?? { Y: 1, Ba: 2, Cu: 3 });
  return {
    rows: elements.map((element) => ({ key: element, element, amount: '', uncertainty: '' })),
    relativePercent: '2',
    method: 'EDX',
    standard: '',
    source: '',
    note: '',
  };
}

/** A stored composition as its form shows it. */
export function compositionDraftOf(facts: TypedFacts): CompositionDraft {
  const { composition, source, note } = facts;
  if (!composition) return { ...emptyComposition(null), source, note };
  const { cations, standardUncertainties, method, standard } = composition;
  return {
    rows: Object.entries(cations).map(([element, amount]) => ({
      key: element,
      element,
      amount: numberText(amount),
      uncertainty: numberText(standardUncertainties[element]),
    })),
    relativePercent: '',
    method,
    standard,
    source,
    note,
  };
}

/**
 * Reads a measured composition.
 *
 * @param state piece and state it was measured of
 * @param kept  facts that the record holds already: its numbers and phases stay
 */
export function readComposition(
  draft: CompositionDraft,
  state: Pick<TypedFacts, 'pieceId' | 'stateTreatmentId'>,
  kept: TypedFacts | null,
): { body: TypedFacts; faults: Faults } {
  const read = new FieldReader();
  const relative = read.number('relativePercent', draft.relativePercent, { above: 0, max: 99, unit: '%' });
  const cations: CationRatio = {};
  const standardUncertainties: Record<string, number> = {};
  draft.rows.forEach((row, i) => {
    const element = row.element.trim();
    if (!isElement(element) || !isCation(element))
      read.faults[`${i}.element`] =
        `Found '${element.slice(0, 20)}'; expected the symbol of a cation, such as Ba.`;
    else if (element in cations)
      read.faults[`${i}.element`] = `Found ${element} twice; expected each element once.`;
    if (row.amount.trim() === '')
      read.faults[`${i}.amount`] = 'Found nothing; expected the amount, in any common unit.';
    const amount = read.number(`${i}.amount`, row.amount, { min: 0, max: 1e6 });
    const own = read.number(`${i}.uncertainty`, row.uncertainty, { above: 0, max: 1e6 });
    if (own === null && relative === null && row.uncertainty.trim() === '')
      read.faults[`${i}.uncertainty`] =
        'Found nothing; expected the uncertainty of this amount, or one of all amounts in %.';
    cations[element] = amount ?? 0;
    standardUncertainties[element] = own ?? Number((((amount ?? 0) * (relative ?? 0)) / 100).toPrecision(8));
  });
  if (Object.values(cations).filter((amount) => amount > 0).length < 2)
    read.faults.rows = 'Found fewer than two amounts above 0; expected a ratio of at least two elements.';
  return {
    body: {
      ...(kept ?? { numbers: [], phases: [] }),
      ...state,
      composition: {
        cations,
        standardUncertainties,
        method: draft.method,
        standard: draft.standard.trim(),
      },
      source: draft.source.trim(),
      note: draft.note,
    },
    faults: read.faults,
  };
}
