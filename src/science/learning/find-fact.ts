// Which of several facts answers a question asked at a condition. Pure.
import type { Fact, FactCondition, FactName } from './facts.ts';

/** How far a condition may lie from the one asked: the larger of the two, where two are given. */
const CONDITION_TOLERANCE = {
  temperatureK: 1,
  temperatureShare: 0.02,
  fieldT: 0.05,
  fieldShare: 0.05,
  thetaDeg: 2,
} as const;

/** Adds to the distance of a fact taken in a field, where the question names none: such a question means self-field. */
const UNASKED_FIELD_DISTANCE = 1;

export interface FoundFact {
  readonly fact: Fact;
  /** how many facts would have answered */
  readonly candidates: number;
  /** the field was asked as 0 and is not stated by the fact */
  readonly isFieldTaken: boolean;
}

/**
 * Distance of a fact's condition from the one asked, in tolerances (root of the sum of squares), or undefined where it
 * does not answer: a condition that is asked must be stated and lie within its tolerance. Two exceptions: a field asked as
 * 0 is answered by a fact that states none (self-field), and an angle does not matter where the field asked is within its
 * tolerance of 0. Angles 180 degrees apart are the same.
 */
export function conditionDistance(
  asked: FactCondition | undefined,
  stated: FactCondition | undefined,
): number | undefined {
  const { temperatureK, fieldT, thetaDeg } = asked ?? {};
  let squares = 0;
  if (temperatureK !== undefined) {
    if (stated?.temperatureK === undefined) return undefined;
    const tolerance = Math.max(
      CONDITION_TOLERANCE.temperatureK,
      CONDITION_TOLERANCE.temperatureShare * temperatureK,
    );
    squares += ((stated.temperatureK - temperatureK) / tolerance) ** 2;
    if (Math.abs(stated.temperatureK - temperatureK) > tolerance * (1 + 1e-9)) return undefined;
  }
  if (fieldT === undefined) {
    if ((stated?.fieldT ?? 0) > CONDITION_TOLERANCE.fieldT) squares += UNASKED_FIELD_DISTANCE;
  } else {
    if (stated?.fieldT === undefined && fieldT !== 0) return undefined;
    const tolerance = Math.max(CONDITION_TOLERANCE.fieldT, CONDITION_TOLERANCE.fieldShare * fieldT);
    const away = Math.abs((stated?.fieldT ?? 0) - fieldT);
    squares += (away / tolerance) ** 2;
    if (away > tolerance * (1 + 1e-9)) return undefined;
  }
  if (thetaDeg !== undefined && (fieldT === undefined || fieldT > CONDITION_TOLERANCE.fieldT)) {
    if (stated?.thetaDeg === undefined) return undefined;
    const turned = Math.abs(stated.thetaDeg - thetaDeg) % 180;
    const away = Math.min(turned, 180 - turned);
    squares += (away / CONDITION_TOLERANCE.thetaDeg) ** 2;
    if (away > CONDITION_TOLERANCE.thetaDeg * (1 + 1e-9)) return undefined;
  }
  return Math.sqrt(squares);
}

/**
 * The fact that answers: the one whose condition lies nearest, then a value before a bound, then the smallest relative
 * uncertainty (not stated counts last), then the first.
 */
export function findFact(
  numbers: readonly Fact[],
  name: FactName,
  asked: FactCondition | undefined,
): FoundFact | undefined {
  const candidates = numbers.flatMap((fact) => {
    const distance = fact.name === name ? conditionDistance(asked, fact.at) : undefined;
    return distance === undefined ? [] : [{ fact, distance: Math.round(distance * 1e6) }];
  });
  candidates.sort(
    (a, b) =>
      a.distance - b.distance ||
      Number(a.fact.bound !== undefined) - Number(b.fact.bound !== undefined) ||
      byUncertainty(a.fact, b.fact),
  );
  const best = candidates[0];
  if (!best) return undefined;
  return {
    fact: best.fact,
    candidates: candidates.length,
    isFieldTaken: asked?.fieldT === 0 && best.fact.at?.fieldT === undefined,
  };
}

function byUncertainty(a: Fact, b: Fact): number {
  const [one, other] = [relativeUncertainty(a), relativeUncertainty(b)];
  return one === other ? 0 : one - other;
}

function relativeUncertainty(fact: Fact): number {
  return fact.standardUncertainty === null
    ? Number.POSITIVE_INFINITY
    : fact.standardUncertainty / Math.max(Math.abs(fact.value), Number.MIN_VALUE);
}
