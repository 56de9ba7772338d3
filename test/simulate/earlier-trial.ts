// Two melts and the solids of an earlier trial of this system, for comparison: their peritectics, eutectic and Cu+ shares were worked
// out then by other code. J/mol and J/(mol K).

/** A + B T of the solids. */
export const EARLIER_SOLIDS = {
  '011': [-42900, 7.8],
  '012': [-36887.04, 0.9],
  '202': [11210, -15.07],
  '101': [-5800, 3.9],
  '210': [-45000, 0],
  '210-re': [-45000, 0],
  '211': [-90000, 23],
  '123': [-117382.69, 21.58],
  '124': [-162300.13, 67.1],
} as const;

/** source: earlier trial; what it found, printed to the digits it gave */
export const EARLIER_TRIAL = [
  {
    name: 'lower bracket',
    form: 'ionic-ternary',
    values: {
      fusionEntropy: 25.205,
      fusionTemperature: 1589.563,
      baCu2: -88688.283,
      baCu1: -62039.943,
      cuCu: 14398.491,
      baCu2Slope: 61706.376,
      baCu1Slope: -51088.837,
      baCuCu: 40408.97,
      reBa: -32766.553,
      reCu2: 4918.631,
      reCu1: 16355.177,
    },
    solid132: [-131986.33, 20],
    peritecticC: ['1029.5', '1011.5', '972'],
    cuprousAtPeritectic: ['0.36', '0.75', '0.88'],
    edge: { temperatureC: '919.6', ba: '0.227', cuprous: '0.88' },
    eutectic: { temperatureC: '919.5', ba: '0.227' },
  },
  {
    name: 'upper bracket',
    form: 'ionic',
    values: {
      fusionEntropy: 23.673,
      fusionTemperature: 1598.449,
      baCu2: -81255.831,
      baCu1: -70911.812,
      cuCu: 14592.559,
      baCu2Slope: 99219.915,
      baCu1Slope: -18520.413,
      reBa: -38247.341,
      reCu2: 134.706,
      reCu1: 25413.735,
    },
    solid132: [-219823.94, 98.21],
    peritecticC: ['1031', '1005', '965'],
    cuprousAtPeritectic: ['0.69', '0.78', '0.87'],
    edge: { temperatureC: '939', ba: '0.257', cuprous: '0.86' },
    eutectic: { temperatureC: '939', ba: '0.257' },
  },
  {
    name: 'cooperative',
    form: 'cooperative',
    values: {
      fusionEntropy: 37.67,
      fusionTemperature: 1677.161,
      cooperation: 0.422,
      redox0: -1957.797,
      redox1: -32607.162,
      redox2: 111649.694,
      baCu: -93094.333,
      baCuSlope: 49497.185,
      reBa: -34824.657,
      reCu: 31867.405,
    },
    solid132: [-217070.68, 95.76],
    peritecticC: ['1029', '1005', '966'],
    cuprousAtPeritectic: [null, '0.77', null],
    edge: { temperatureC: '940', ba: '0.256', cuprous: '0.84' },
    eutectic: null,
  },
] as const;
