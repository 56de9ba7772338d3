import { describe, expect, it } from 'vitest';
import { withSampleHeader } from '../../../src/formats/curves/sample-header.ts';

const KNOWN = [
  { pieceId: 'a', label: 'D07-a' },
  { pieceId: 'b', label: 'D07-b' },
];
const NOTHING = { pieceId: null, how: 'No piece of this series is named in the file name.' };

describe('the sample that the head of a file names', () => {
  it.each(['Sample: D07-a', '# sample name = d07-a', '"Sample ID","D07-a"', 'SAMPLE\tD07-a  '])(
    'in %j is the piece where the file name holds none',
    (line) => {
      expect(withSampleHeader(NOTHING, ['Instrument: x', line], KNOWN)).toEqual({
        pieceId: 'a',
        how: 'The file itself names the sample D07-a.',
      });
    },
  );

  it.each(['Sample: D07', 'Sample: D07-a and D07-b', 'Sample holder: D07-a', 'Resample: D07-a'])(
    'in %j is no label exactly, and names nothing',
    (line) => {
      expect(withSampleHeader(NOTHING, [line], KNOWN)).toEqual(NOTHING);
    },
  );

  it('does not go before the file name, and is said where it speaks of another piece', () => {
    const found = { pieceId: 'b', how: 'The file name holds the label D07-b.' };
    expect(withSampleHeader(found, ['Sample: D07-b'], KNOWN)).toEqual(found);
    expect(withSampleHeader(found, ['Sample: D07-a'], KNOWN)).toMatchObject({
      pieceId: 'b',
      how: expect.stringContaining('but the file itself names the sample D07-a'),
    });
  });

  it('that is the label of two pieces is left to the person', () => {
    const twice = [...KNOWN, { pieceId: 'c', label: 'd07-A' }];
    expect(withSampleHeader(NOTHING, ['Sample: D07-a'], twice)).toEqual(NOTHING);
  });
});
