// Whether a piece passes, falls short, or cannot be said to: each criterion with its odds and its reason. Pure.
import type { Doubt } from '../doubt.ts';
import {
  type Criterion,
  FACT_UNITS,
  FACT_WORDS,
  type Fact,
  type FactCondition,
  type FactName,
  type Facts,
  type NumberCriterion,
  type PhaseCriterion,
  printCondition,
  type VerdictOutcome,
} from './facts.ts';
import { type FoundFact, findFact } from './find-fact.ts';
import {
  type MeetingOdds,
  meetingOdds,
  outcomeOf,
  PRIOR_RUN_SCATTER,
  SCATTERING_FACTS,
  type UncertainValue,
  unstatedUncertainty,
} from './odds.ts';

export interface VerdictQuestion {
  readonly criteria: readonly Criterion[];
  readonly facts: Facts;
  readonly benchmark: Facts | null;
  /** how the benchmark was grown unlike the piece */
  readonly differences: readonly string[];
  /** relative scatter of Jc between runs of one recipe; undefined: the prior */
  readonly runScatter: number | undefined;
}

interface Reason {
  readonly criterionIndex: number;
  readonly outcome: VerdictOutcome;
  /** null where no odds can be claimed: nothing measured, a bound that does not decide, a yes or no about a phase */
  readonly odds: number | null;
  /** odds for another run of the recipe; null where its scatter is not known */
  readonly oddsWithScatter: number | null;
  readonly measured: { value: number; standardUncertainty: number; unit: string } | null;
  readonly wanted: { value: number; unit: string } | null;
  readonly sentence: string;
  readonly wouldDecide: string | null;
}

export interface Verdict {
  readonly outcome: VerdictOutcome;
  /** of all criteria together, taken as independent; adding to 1. `cannotSay` is what only a missing number can settle */
  readonly odds: { readonly passes: number; readonly fallsShort: number; readonly cannotSay: number };
  readonly reasons: readonly Reason[];
  readonly doubts: readonly Doubt[];
}

/**
 * Judges a piece. Each criterion is compared with the fact that answers it (see `findFact`); its odds decide: passes from
 * 0.84, falls short down to 0.16, else cannot say. Any criterion that falls short makes the piece fall short; else any that
 * cannot be said leaves it open; else it passes.
 *
 * The odds of the whole: P, the product of the odds of all criteria that have an answer, is what they leave for passing;
 * 1 - P is `fallsShort`; P is `passes`, or `cannotSay` while any criterion has no answer. Answers without odds that decide
 * count as 1 or 0.
 *
 * Where the benchmark's number is the piece's own, the two err together and only their ratio counts.
 *
 * Jc, Ic per width and n of two unlike methods are not compared: a loop reads at a lower electric field than 1 uV/cm.
 *
 * Source: thresholds and rules argued in docs/science/learning.md. Range: normal errors, independent criteria.
 */
export function judge(question: VerdictQuestion): Verdict {
  const doubts: Doubt[] = [];
  const reasons = question.criteria.map((criterion, i) =>
    criterion.kind === 'phase'
      ? judgePhase(criterion, i, question.facts)
      : judgeNumber(criterion, i, question, doubts),
  );
  if (reasons.length === 0) {
    doubts.push({
      code: 'NO_CRITERIA',
      message: 'The series asks nothing of a film, so nothing can be said.',
    });
  }
  const isAny = (outcome: VerdictOutcome): boolean => reasons.some((reason) => reason.outcome === outcome);
  const outcome: VerdictOutcome = isAny('falls short')
    ? 'falls short'
    : isAny('cannot say') || reasons.length === 0
      ? 'cannot say'
      : 'passes';
  const isUnanswered = (reason: Reason): boolean => reason.odds === null && reason.outcome === 'cannot say';
  const left = reasons
    .filter((reason) => !isUnanswered(reason))
    .reduce((product, reason) => product * (reason.odds ?? Number(reason.outcome === 'passes')), 1);
  const isOpen = reasons.length === 0 || reasons.some(isUnanswered);
  return {
    outcome,
    odds: { passes: isOpen ? 0 : left, fallsShort: 1 - left, cannotSay: isOpen ? left : 0 },
    reasons,
    doubts,
  };
}

function judgePhase({ phase, wanted }: PhaseCriterion, criterionIndex: number, facts: Facts): Reason {
  const said = facts.phases.filter((fact) => fact.phase === phase);
  const measured = said.filter((fact) => fact.origin === 'measured');
  const answers = new Set((measured.length > 0 ? measured : said).map((fact) => fact.answer));
  answers.delete('cannot say');
  const [answer] = answers;
  const common = { criterionIndex, odds: null, oddsWithScatter: null, measured: null, wanted: null };
  if (answers.size !== 1 || answer === undefined) {
    return {
      ...common,
      outcome: 'cannot say',
      sentence:
        answers.size > 1
          ? `${phase} should be ${wanted}; one scan says present and another absent.`
          : `${phase} should be ${wanted}; ${said.length > 0 ? 'the scan cannot say' : 'no scan says'} whether it is there.`,
      wouldDecide: `A theta-2theta scan in which the strongest free line of ${phase} would stand out.`,
    };
  }
  const isMet = answer === wanted;
  return {
    ...common,
    outcome: isMet ? 'passes' : 'falls short',
    sentence: `${phase} should be ${wanted} and is ${answer}.`,
    wouldDecide: null,
  };
}

function judgeNumber(
  criterion: NumberCriterion,
  criterionIndex: number,
  question: VerdictQuestion,
  doubts: Doubt[],
): Reason {
  const { fact: name, comparison, at } = criterion;
  const unit = FACT_UNITS[name];
  const where = printCondition(at);
  const subject = `${FACT_WORDS[name]}${where ? ` at ${where}` : ''}`;
  const own = ownFact(criterion, question);
  const target = wantedValue(criterion, question, own?.fact.method, doubts, criterionIndex);
  const ask = `${sentenceCase(subject)} should be ${comparison} ${target.words}`;
  const unanswered = { criterionIndex, outcome: 'cannot say' as const, odds: null, oddsWithScatter: null };
  const wanted = target.value && { value: target.value.value, unit };
  if (!own || !target.value) {
    const hasBenchmark = question.benchmark !== null;
    const lacking = hasBenchmark
      ? 'the benchmark has no such number'
      : 'no benchmark is named, or nothing is known of it';
    const decides = hasBenchmark
      ? `Measure ${subject} of the benchmark.`
      : `Name the piece that is the benchmark, and measure ${subject} of it.`;
    return {
      ...unanswered,
      measured: own ? quantityOf(stated(own, doubts, criterionIndex, 'the piece'), unit) : null,
      wanted,
      sentence: `${ask}; ${own ? lacking : 'it was not measured'}.`,
      wouldDecide: own ? decides : `Measure ${subject}.`,
    };
  }
  const value = stated(own, doubts, criterionIndex, 'the piece');
  if (target.method !== undefined && target.method !== own.fact.method && FIELD_LEVEL_FACTS.has(name)) {
    return {
      ...unanswered,
      measured: quantityOf(value, unit),
      wanted,
      sentence: `${ask} and is ${printValue(value, unit)}, but by ${own.fact.method}, where the benchmark's is by ${target.method}: ${FACT_WORDS[name]} depends on the electric field it is read at, so two methods are not compared.`,
      wouldDecide: `Measure ${subject} by ${target.method}, as the benchmark's was.`,
    };
  }
  const isItself = target.fact !== undefined && isSameReading(own.fact, target.fact);
  // x and its own share w x err together: their difference (1 - w) x has the uncertainty |1 - w| u
  const apart = Math.abs(1 - criterion.wanted) * value.standardUncertainty;
  const meeting = isItself
    ? meetingOdds(
        { value: value.value, standardUncertainty: apart },
        { value: target.value.value, standardUncertainty: 0 },
        comparison,
      )
    : meetingOdds(value, target.value, comparison);
  const outcome = outcomeOf(meeting);
  const isClaimed = meeting.side === 'exact' || outcome !== 'cannot say';
  const hasSpread =
    (isItself ? apart : Math.hypot(value.standardUncertainty, target.value.standardUncertainty)) > 0;
  const odds = isClaimed && hasSpread ? meeting.odds : null;
  const oddsWithScatter =
    odds === null || isItself ? null : scatteredOdds(criterion, value, target.value, question, doubts);
  const among =
    own.candidates > 1
      ? ` (of ${own.candidates} that answer, the nearest in condition, then the surest)`
      : '';
  const unlike =
    criterion.relativeTo === 'benchmark' && question.differences.length > 0
      ? ` The benchmark was grown unlike it: ${question.differences.join('; ')}.`
      : '';
  return {
    criterionIndex,
    outcome,
    odds,
    oddsWithScatter,
    measured: quantityOf(value, unit),
    wanted,
    sentence: `${ask} and is ${printValue(value, unit)}${printTaken(at, own.fact)}${among}${isItself ? ', which is the benchmark itself' : ''}: ${printOdds(outcome, odds, meeting)}.${unlike}`,
    wouldDecide: outcome === 'cannot say' ? whatDecides(subject, value, target.value, meeting, unit) : null,
  };
}

/** Is the benchmark's number the very reading that is judged? Then both err together. Typed numbers do not say. */
function isSameReading(one: Fact, other: Fact): boolean {
  return (
    one.measurementId !== undefined &&
    one.measurementId === other.measurementId &&
    one.value === other.value &&
    one.standardUncertainty === other.standardUncertainty &&
    one.method === other.method &&
    one.bound === other.bound &&
    printCondition(one.at) === printCondition(other.at)
  );
}

/** Facts that depend on the electric field they are read at, so that two methods do not give the same number. */
const FIELD_LEVEL_FACTS: ReadonlySet<FactName> = new Set(['jcAPerM2', 'icPerWidthAPerM', 'nValue']);

/** The piece's fact that answers; where the benchmark is asked too, one by a method that the benchmark has, if any. */
function ownFact(
  { fact: name, at, relativeTo }: NumberCriterion,
  question: VerdictQuestion,
): FoundFact | undefined {
  const { numbers } = question.facts;
  if (relativeTo === 'nothing' || !question.benchmark) return findFact(numbers, name, at);
  const methods = new Set(
    question.benchmark.numbers.filter((fact) => fact.name === name).map(({ method }) => method),
  );
  const alike = numbers.filter(({ method }) => methods.has(method));
  return findFact(alike, name, at) ?? findFact(numbers, name, at);
}

/** The value a criterion asks for, and how a sentence says it; value null where the benchmark lacks it. */
function wantedValue(
  criterion: NumberCriterion,
  question: VerdictQuestion,
  ownMethod: string | undefined,
  doubts: Doubt[],
  criterionIndex: number,
): { value: UncertainValue | null; words: string; method?: string; fact?: Fact } {
  const unit = FACT_UNITS[criterion.fact];
  if (criterion.relativeTo === 'nothing') {
    return {
      value: { value: criterion.wanted, standardUncertainty: 0 },
      words: print(criterion.wanted, unit),
    };
  }
  const share = `${print(criterion.wanted, '1')} times the benchmark's`;
  const numbers = question.benchmark?.numbers ?? [];
  const alike = numbers.filter(({ method }) => method === ownMethod);
  const found =
    findFact(alike, criterion.fact, criterion.at) ?? findFact(numbers, criterion.fact, criterion.at);
  if (!found) return { value: null, words: share };
  const benchmark = stated(found, doubts, criterionIndex, 'the benchmark');
  const value = {
    value: criterion.wanted * benchmark.value,
    standardUncertainty: criterion.wanted * benchmark.standardUncertainty,
    bound: benchmark.bound,
  };
  return {
    value,
    words: `${share}, ${printValue(value, unit)}`,
    method: found.fact.method,
    fact: found.fact,
  };
}

/** The fact as a value with an uncertainty. A value that states none, or 0, gets a default and a doubt; a bound needs none. */
function stated(found: FoundFact, doubts: Doubt[], criterionIndex: number, whose: string): UncertainValue {
  const { fact } = found;
  if (found.isFieldTaken) {
    doubts.push({
      code: 'FIELD_NOT_STATED',
      message: `Criterion ${criterionIndex + 1}: ${FACT_WORDS[fact.name]} of ${whose} states no field and is taken as self-field.`,
    });
  }
  if (fact.bound !== undefined || (fact.standardUncertainty ?? 0) > 0) {
    return { value: fact.value, standardUncertainty: fact.standardUncertainty ?? 0, bound: fact.bound };
  }
  const standardUncertainty = unstatedUncertainty(fact.name, fact.value);
  doubts.push({
    code: 'UNCERTAINTY_NOT_STATED',
    message: `Criterion ${criterionIndex + 1}: ${printFact(fact)} of ${whose} states no uncertainty; ${print(standardUncertainty, FACT_UNITS[fact.name])}, usual for such numbers, was taken.`,
  });
  return { value: fact.value, standardUncertainty };
}

/** Odds for another run: the scatter of runs joins the piece's number, and the benchmark's where it is compared with. */
function scatteredOdds(
  criterion: NumberCriterion,
  value: UncertainValue,
  wanted: UncertainValue,
  { runScatter }: VerdictQuestion,
  doubts: Doubt[],
): number | null {
  if (!SCATTERING_FACTS.has(criterion.fact)) return null;
  const scatter = runScatter ?? PRIOR_RUN_SCATTER;
  if (runScatter === undefined && !doubts.some((doubt) => doubt.code === 'SCATTER_PRIOR')) {
    doubts.push({
      code: 'SCATTER_PRIOR',
      message: `Scatter between runs is taken as ${100 * PRIOR_RUN_SCATTER} % of Jc, usual for one recipe and not measured in this series.`,
    });
  }
  const widened = (of: UncertainValue, relative: number): UncertainValue => ({
    ...of,
    standardUncertainty: Math.hypot(of.standardUncertainty, relative * of.value),
  });
  const wantedScatter = criterion.relativeTo === 'benchmark' ? scatter : 0;
  return meetingOdds(widened(value, scatter), widened(wanted, wantedScatter), criterion.comparison).odds;
}

function whatDecides(
  subject: string,
  value: UncertainValue,
  wanted: UncertainValue,
  { side }: MeetingOdds,
  unit: string,
): string {
  if (side !== 'exact') {
    const whose = value.bound ? subject : `${subject} of the benchmark`;
    return `A value of ${whose} in place of the bound.`;
  }
  const margin = Math.abs(value.value - wanted.value);
  const room = Math.sqrt(Math.max(0, margin ** 2 - wanted.standardUncertainty ** 2));
  if (room > 0 && room >= 1e-3 * Math.abs(wanted.value)) {
    return `Measure ${subject} again to a standard uncertainty of ${print(Number(room.toPrecision(2)), unit)} or less, if the value stays.`;
  }
  return wanted.standardUncertainty > 0
    ? `The benchmark's own uncertainty of ${print(wanted.standardUncertainty, unit)} leaves it open: measure ${subject} of both again.`
    : `The value lies on the wanted one: no measurement of this piece will decide, a second piece may.`;
}

const quantityOf = ({ value, standardUncertainty }: UncertainValue, unit: string) => ({
  value,
  standardUncertainty,
  unit,
});

const sentenceCase = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** From here a number is printed as a power of ten. */
const LONG_NUMBER = 1e5;

function print(value: number, unit: string): string {
  const digits =
    Math.abs(value) >= LONG_NUMBER ? value.toExponential(3) : String(Number(value.toPrecision(4)));
  const tidy = digits.replace('e+', 'e').replace(/\.?0+e/, 'e');
  return unit === '1' ? tidy : `${tidy} ${unit}`;
}

function printValue({ value, standardUncertainty, bound }: UncertainValue, unit: string): string {
  const side = bound ? `${bound} ` : '';
  if (standardUncertainty === 0) return side + print(value, unit);
  const power = Math.abs(value) >= LONG_NUMBER ? Math.floor(Math.log10(Math.abs(value))) : 0;
  const scale = 10 ** power;
  const both = `${print(value / scale, '1')} ± ${Number((standardUncertainty / scale).toPrecision(2))}`;
  const suffix = unit === '1' ? '' : ` ${unit}`;
  return side + (power === 0 ? both : `(${both})e${power}`) + suffix;
}

/** The condition of a fact, where it is not the one asked. */
function printTaken(asked: FactCondition | undefined, fact: Fact): string {
  const taken = printCondition(fact.at);
  return taken === '' || taken === printCondition(asked) ? '' : ` (at ${taken})`;
}

const printFact = (fact: Fact): string =>
  `${FACT_WORDS[fact.name]} ${print(fact.value, FACT_UNITS[fact.name])}`;

function printOdds(outcome: VerdictOutcome, odds: number | null, { side }: MeetingOdds): string {
  if (odds === null) {
    if (side === 'exact') return outcome;
    return outcome === 'cannot say' ? 'the bound does not decide' : `${outcome}, since the bound decides`;
  }
  const percent = Math.round(100 * odds);
  const printed = percent <= 0 ? 'below 1' : percent >= 100 ? 'above 99' : `${percent}`;
  const limit = side === 'least' ? 'at least ' : side === 'most' ? 'at most ' : '';
  return `${outcome}, odds of meeting it ${limit}${printed} %`;
}
