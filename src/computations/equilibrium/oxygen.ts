// Catalogue entry: oxygen content of 123 in balance with the gas.
import { z } from 'zod';
import { checkConditions } from '../../science/equilibrium/limits.ts';
import {
  OXYGEN_ABOVE_SIX_RMS,
  OXYGEN_FIT,
  oxygenAboveSix,
  ZERO_CELSIUS_K,
} from '../../science/equilibrium/oxygen.ts';
import { THERMO_LINES_TABLE } from '../../science/tables/thermo-lines.ts';
import { shortComputation } from '../computation.ts';
import { type Flag, flagsSchema, quantitySchema } from '../schema.ts';

export const equilibriumOxygen = shortComputation({
  name: 'equilibrium.oxygen',
  version: 2,
  summary: 'Oxygen z of REBa2Cu3O6+z in balance with the gas at a temperature and oxygen pressure.',
  request: z.strictObject({ temperatureC: z.number(), po2Atm: z.number() }),
  response: z.strictObject({
    /** z of REBa2Cu3O6+z; null where the formula would put more than 1 into the chains */
    z: quantitySchema.nullable(),
    /** d of REBa2Cu3O7-d, 1 - z */
    deficiency: z.number().nullable(),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [THERMO_LINES_TABLE],
  cost: 'instant',
  example: { temperatureC: 500, po2Atm: 1 },
  run({ temperatureC, po2Atm }) {
    checkConditions(temperatureC, po2Atm);
    const value = oxygenAboveSix(temperatureC + ZERO_CELSIUS_K, po2Atm);
    const flags: Flag[] = [];
    if (
      temperatureC < OXYGEN_FIT.fromC ||
      temperatureC > OXYGEN_FIT.toC ||
      po2Atm < OXYGEN_FIT.fromAtm ||
      po2Atm > OXYGEN_FIT.toAtm
    ) {
      flags.push({
        code: 'OXYGEN_CONTENT_EXTRAPOLATED',
        message: `Fitted at ${OXYGEN_FIT.fromC} to ${OXYGEN_FIT.toC} degC and ${OXYGEN_FIT.fromAtm} to ${OXYGEN_FIT.toAtm} atm, with Y; the uncertainty given is that of the fit there.`,
      });
    }
    if (value > 1) {
      flags.push({
        code: 'OXYGEN_ABOVE_SEVEN',
        message: `The formula gives z = ${value.toFixed(2)}, more than the chains hold: it leaves their order out and does not reach here. Oxygen will be near 7 if it has time to go in.`,
      });
      return { z: null, deficiency: null, flags };
    }
    if (value > OXYGEN_FIT.mostZ) {
      flags.push({
        code: 'OXYGEN_CHAINS_ORDER',
        message: `z above ${OXYGEN_FIT.mostZ}: the order of the chains, left out here, sets what is really reached.`,
      });
    }
    return {
      z: { value, standardUncertainty: OXYGEN_ABOVE_SIX_RMS, unit: '1' },
      deficiency: 1 - value,
      flags,
    };
  },
});
