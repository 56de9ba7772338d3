// What a slipped weighing of a kept target would have done, and which slip explains a ratio that was found. Pure.
import type { z } from 'zod';
import { uncertainText } from '../../charts/number-text.ts';
import type { targetSlip } from '../../computations/target/slip.ts';
import { readRatio } from '../compositions.ts';
import type { BatchAsk } from './target-draft.ts';
import { type Faults, FieldReader } from './typed-numbers.ts';

export type SlipAnswer = z.infer<typeof targetSlip.response>;

interface SlipAsk {
  precursors: (Pick<BatchAsk['precursors'][number], 'formula' | 'purity' | 'assay' | 'lossOnDrying'> & {
    massMg: number;
  })[];
  slipMg?: number;
  found?: { cations: Record<string, number>; u: Record<string, number> };
}

interface SlipDraft {
  slipMg: string;
  found: string;
  foundPercent: string;
}

export const EMPTY_SLIP: SlipDraft = { slipMg: '20', found: '', foundPercent: '2' };

/** Requests to `target.slip`: this much too much, this much too little, and what was found; null where nothing is asked. */
export function readSlip(
  draft: SlipDraft,
  request: BatchAsk,
  massesMg: readonly number[],
  rareEarth: string,
): { more: SlipAsk | null; less: SlipAsk | null; explain: SlipAsk | null; faults: Faults } {
  const read = new FieldReader();
  const precursors = request.precursors.map(({ formula, purity, assay, lossOnDrying }, i) => ({
    formula,
    ...(purity === undefined ? {} : { purity }),
    ...(assay === undefined ? {} : { assay }),
    lossOnDrying,
    massMg: massesMg[i] ?? 0,
  }));
  const slipMg = read.number('slipMg', draft.slipMg, { above: 0, max: 1e6, unit: 'mg' });
  const percent = read.number('foundPercent', draft.foundPercent, { above: 0, max: 99, unit: '%' });
  let explain: SlipAsk | null = null;
  if (draft.found.trim() !== '') {
    const ratio = readRatio(draft.found, rareEarth);
    if ('fault' in ratio) read.faults.found = ratio.fault;
    else if (percent !== null) {
      const cations = Object.fromEntries(Object.entries(ratio.cations).filter(([, amount]) => amount > 0));
      const u = Object.fromEntries(
        Object.entries(cations).map(([symbol, amount]) => [symbol, (amount * percent) / 100]),
      );
      explain = { precursors, found: { cations, u } };
    }
  }
  return {
    more: slipMg === null ? null : { precursors, slipMg },
    less: slipMg === null ? null : { precursors, slipMg: -slipMg },
    explain,
    faults: read.faults,
  };
}

/** Shares of cations scaled to the sum of another ratio, so that both can be compared. */
export function scaledTo(
  ratio: Readonly<Record<string, number>>,
  shares: Readonly<Record<string, number>>,
): Record<string, number> {
  const sum = Object.values(ratio).reduce((total, amount) => total + amount, 0);
  return Object.fromEntries(Object.entries(shares).map(([symbol, share]) => [symbol, share * sum]));
}

/** What one slip explains, in a sentence. */
export function explanationText({
  formula,
  errorMg,
  errorU,
  probability,
}: SlipAnswer['explanations'][number]): string {
  const odds = probability < 0.001 ? 'below 0.001' : probability.toPrecision(2);
  const fits = probability >= 0.05 ? 'explains what was found' : 'does not explain what was found';
  if (formula === '') return `No slip at all ${fits} (probability ${odds}).`;
  const size = uncertainText(Math.abs(errorMg), errorU);
  return `${formula} weighed ${size} mg too ${errorMg < 0 ? 'little' : 'much'} ${fits} (probability ${odds}).`;
}
