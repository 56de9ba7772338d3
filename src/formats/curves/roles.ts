// Roles of each kind of measurement, and the units a role may be stated in. Pure.
import { findUnit, UNITS, type Unit } from '../units.ts';
import {
  CURVE_ROLES,
  type CurveRole,
  MEASUREMENT_KINDS,
  type MeasurementKind,
  ROLES_OF_KIND,
} from './schema.ts';

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

export interface ListedKind {
  kind: MeasurementKind;
  /** `isRequired`: no set of columns does without it */
  roles: { role: CurveRole; isRequired: boolean; units: string[] }[];
}

/** What a column can be, by kind, with the units to choose from. */
export function rolesOfKinds(): ListedKind[] {
  return MEASUREMENT_KINDS.map((kind) => {
    const { oneOf, optional } = ROLES_OF_KIND[kind];
    const roles = [...new Set([...oneOf.flat(), ...optional])];
    return {
      kind,
      roles: roles.map((role) => ({
        role,
        isRequired: oneOf.every((set) => set.includes(role)),
        units: unitsFor(role).map(({ symbol }) => symbol),
      })),
    };
  });
}
