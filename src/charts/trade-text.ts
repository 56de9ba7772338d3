// Numbers as people of the trade write them. Inside all is SI; the units turn here.
import type { Criterion, Fact, FactCondition, FactName } from '../science/learning/facts.ts';
import type { Amounts } from '../science/matter/cation-ratios.ts';
import { uncertainText } from './number-text.ts';

interface TradeUnit {
  label: string;
  unit: string;
  /** trade number = SI number times this */
  factor: number;
}

export const FACT_TRADE_UNITS: Record<FactName, TradeUnit> = {
  cAxisAngstrom: { label: 'c axis', unit: 'Å', factor: 1 },
  breadth005Deg: { label: 'Width of (005)', unit: '°', factor: 1 },
  rockingWidthDeg: { label: 'Rocking width', unit: '°', factor: 1 },
  tcOnsetK: { label: 'Tc onset', unit: 'K', factor: 1 },
  tcMidpointK: { label: 'Tc midpoint', unit: 'K', factor: 1 },
  tcZeroK: { label: 'Tc zero', unit: 'K', factor: 1 },
  tcMagneticOnsetK: { label: 'Tc magnetic onset', unit: 'K', factor: 1 },
  transitionWidthK: { label: 'Transition width 10-90 %', unit: 'K', factor: 1 },
  jcAPerM2: { label: 'Jc', unit: 'MA/cm²', factor: 1e-10 },
  icPerWidthAPerM: { label: 'Ic per width', unit: 'A/cm', factor: 1e-2 },
  nValue: { label: 'n', unit: '', factor: 1 },
  thicknessNm: { label: 'Thickness', unit: 'nm', factor: 1 },
  depositionRateNmPerS: { label: 'Deposition rate', unit: 'nm/s', factor: 1 },
  conversionRateNmPerS: { label: 'Conversion rate', unit: 'nm/s', factor: 1 },
  overallRateNmPerS: { label: 'Overall rate', unit: 'nm/s', factor: 1 },
  cracksPerMm: { label: 'Cracks', unit: '1/mm', factor: 1 },
};

/** Condition of a fact in words: `77 K, 0 T`. */
export function conditionText(at: FactCondition | undefined): string {
  const parts: string[] = [];
  if (at?.temperatureK !== undefined) parts.push(`${Number(at.temperatureK.toFixed(2))} K`);
  if (at?.fieldT !== undefined)
    parts.push(at.fieldT === 0 ? 'self-field' : `${Number(at.fieldT.toFixed(3))} T`);
  if (at?.thetaDeg !== undefined) parts.push(`${at.thetaDeg}° from c`);
  return parts.join(', ');
}

/** A fact's number with its uncertainty in trade units: `1.02(5) MA/cm²`; a bound as `> 1.2 MA/cm²`. */
export function factText(fact: Fact): string {
  const { unit, factor } = FACT_TRADE_UNITS[fact.name];
  const uncertainty = fact.standardUncertainty === null ? null : fact.standardUncertainty * factor;
  const sign = fact.bound === 'above' ? '> ' : fact.bound === 'below' ? '< ' : '';
  return `${sign}${uncertainText(fact.value * factor, fact.bound ? null : uncertainty)}${unit ? ` ${unit}` : ''}`;
}

/** pO2 in the unit a grower reads most easily at that size. */
export function pressureText(po2Atm: number): string {
  const mTorr = po2Atm * 760_000;
  if (po2Atm >= 0.05) return `${Number(po2Atm.toPrecision(3))} atm`;
  if (mTorr >= 1000) return `${Number((mTorr / 1000).toPrecision(3))} Torr`;
  return mTorr >= 0.1 ? `${Number(mTorr.toPrecision(3))} mTorr` : `${po2Atm.toExponential(1)} atm`;
}

/** `Dy 1 : Ba 2 : Cu 3`, at most four digits each. */
export function ratioText(cations: Amounts): string {
  return Object.entries(cations)
    .filter(([, amount]) => amount > 0)
    .map(([element, amount]) => `${element} ${Number(amount.toPrecision(4))}`)
    .join(' : ');
}

/** A criterion in words. */
export function criterionText(criterion: Criterion): string {
  if (criterion.kind === 'phase') return `${criterion.phase} ${criterion.wanted}`;
  const { label, unit, factor } = FACT_TRADE_UNITS[criterion.fact];
  const at = conditionText(criterion.at);
  const wanted =
    criterion.relativeTo === 'benchmark'
      ? `${criterion.wanted} of the benchmark's`
      : `${Number((criterion.wanted * factor).toPrecision(6))} ${unit}`;
  return `${label}${at ? ` at ${at}` : ''} ${criterion.comparison} ${wanted}`;
}
