// Units that a role of a curve may be stated in. Pure.
import { findUnit, UNITS, type Unit } from '../units.ts';
import { CURVE_ROLES, type CurveRole } from './schema.ts';

export function isCurveRole(role: string): role is CurveRole {
  return Object.hasOwn(CURVE_ROLES, role);
}

/** Every unit accepted for a role, with factor and offset to SI (degrees of 2theta for an angle). */
export function unitsFor(role: CurveRole): readonly Unit[] {
  return UNITS.filter(({ dimension }) => dimension === CURVE_ROLES[role].dimension);
}

/** The unit a text names, if the role accepts it. */
export function unitOfRole(role: CurveRole, text: string): Unit | undefined {
  const unit = findUnit(text);
  return unit?.dimension === CURVE_ROLES[role].dimension ? unit : undefined;
}
