// Our numbers agree with those printed outside the project, within half a unit in the last printed place.
import { describe, expect, it } from 'vitest';
import { ALL_CHECKS } from './all-checks.ts';
import { halfLastPlace } from './outside-check.ts';

for (const { subject, checks } of ALL_CHECKS) {
  describe(subject, () => {
    it.each(checks.map((check) => [`${check.functionName}: ${check.quantity}`, check] as const))(
      '%s',
      (_title, check) => {
        const tolerance = check.tolerance ?? halfLastPlace(check.expected);
        expect(Math.abs(check.got() - Number(check.expected))).toBeLessThanOrEqual(tolerance * (1 + 1e-9));
        if (check.tolerance !== undefined && check.tolerance > halfLastPlace(check.expected)) {
          expect(check.toleranceReason, 'a wider tolerance needs a reason').toBeTruthy();
        }
        expect(check.source.length).toBeGreaterThan(5);
      },
    );
  });
}
