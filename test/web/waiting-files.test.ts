import { describe, expect, it } from 'vitest';
import type { FileLook } from '../../src/api/contract.ts';
import {
  fileCounts,
  importRequestOf,
  isReady,
  type KindAnswers,
  kindsOf,
  openQuestions,
  settingsOf,
  type WaitingFile,
} from '../../src/web/waiting-files.ts';

const MAPPING: FileLook['mapping'] = {
  kind: 'resistance',
  block: 0,
  columns: [
    { role: 'temperatureK', column: 0, unit: 'K' },
    { role: 'resistanceOhm', column: 1, unit: 'ohm' },
  ],
};

function look(changes: Partial<FileLook> = {}): FileLook {
  return {
    blocks: [{ headings: ['T', 'R'], units: ['K', 'ohm'], rows: 100, shape: 'two', firstRows: [[90, 1]] }],
    headerLines: [],
    mapping: MAPPING,
    mappingIs: 'guessed',
    settings: {},
    doubts: [],
    warnings: [],
    pieceId: 'piece-1',
    pieceNote: 'named in the file name',
    ...changes,
  };
}

function waiting(changes: Partial<WaitingFile> = {}): WaitingFile {
  return {
    key: 'one',
    fileName: 'D01-a_RT.csv',
    bytes: 1000,
    step: 'waiting',
    sentShare: 1,
    sha256: 'a'.repeat(64),
    look: look(),
    pieceId: 'piece-1',
    pieceNote: '',
    stateTreatmentId: null,
    stateNote: '',
    ownSettings: {},
    readBefore: null,
    isReadAgain: false,
    reading: null,
    problem: null,
    result: null,
    ...changes,
  };
}

const doubtful = (key: string) =>
  waiting({ key, look: look({ doubts: ['Is the resistance in ohm or in milliohm?'] }) });
const ANSWERED: KindAnswers = { two: { mapping: MAPPING!, settings: {}, isRemembered: false } };
const IV = {
  kind: 'current-voltage' as const,
  block: 0,
  columns: [{ role: 'currentA', column: 0, unit: 'A' }],
};

describe('waiting files', () => {
  it('ask a doubt once for sixty files of one kind, and one answer frees all of them', () => {
    const files = Array.from({ length: 60 }, (_, i) => doubtful(`file-${i}`));
    expect(kindsOf(files, {})).toMatchObject([
      { shape: 'two', doubts: [{ sentence: 'Is the resistance in ohm or in milliohm?', count: 60 }] },
    ]);
    expect(fileCounts(files, {})).toMatchObject({ asked: 60, ready: 0 });
    expect(fileCounts(files, ANSWERED)).toMatchObject({ asked: 0, ready: 60 });
  });

  it('apply an answer to a file of the same kind that comes later, and to no other kind', () => {
    const other = look({
      blocks: [{ ...look().blocks[0]!, shape: 'three' }],
      mapping: null,
      mappingIs: 'unknown',
    });
    expect(isReady(doubtful('late'), ANSWERED)).toBe(true);
    expect(openQuestions(waiting({ look: other }), ANSWERED)).toEqual([
      { about: 'kind', sentence: 'Which column is what?' },
    ]);
  });

  it('tell files with the same first table but another second one apart', () => {
    const block = look().blocks[0]!;
    const files = [
      waiting({ key: 'a' }),
      waiting({ key: 'b', look: look({ blocks: [block, { ...block, shape: 'x' }] }) }),
    ];
    expect(kindsOf(files, {})).toHaveLength(2);
  });

  it('take a setting from the file alone, then from the file text, then from the answer for its kind', () => {
    const answers: KindAnswers = {
      two: { mapping: IV, settings: { temperatureK: 4, fieldT: 0, tapDistanceM: 1e-3 }, isRemembered: true },
    };
    const file = waiting({
      look: look({ settings: { temperatureK: 30, fieldT: 5 } }),
      ownSettings: { fieldT: 3 },
    });
    expect(settingsOf(file, answers)).toEqual({ temperatureK: 30, fieldT: 3, tapDistanceM: 1e-3 });
  });

  it('hold a current-voltage file back until temperature, field and geometry are stated', () => {
    const file = waiting({ look: look({ mapping: IV, settings: { temperatureK: 77, fieldT: 0 } }) });
    expect(openQuestions(file, {})).toEqual([
      { about: 'settings', sentence: 'Not stated: tap distance, bridge width.' },
    ]);
  });

  it('leave the columns out of the question where only a setting is not stated', () => {
    const file = waiting({ look: look({ mapping: IV, settings: { temperatureK: 77, fieldT: 0 } }) });
    expect(kindsOf([file], {})[0]).toMatchObject({ isAsked: true, asksColumns: false });
    expect(kindsOf([doubtful('d')], {})[0]).toMatchObject({ isAsked: true, asksColumns: true });
  });

  it('wait for a piece, and for leave to read the same bytes twice', () => {
    const file = waiting({ pieceId: null, readBefore: { measurementId: 'm', label: 'D01-a_RT.csv' } });
    expect(openQuestions(file, {}).map(({ about }) => about)).toEqual(['piece', 'again']);
    expect(isReady({ ...file, pieceId: 'piece-1', isReadAgain: true }, {})).toBe(true);
  });

  it('make no request while a question is open, and remember a guess but not what is remembered already', () => {
    const ids = { id: 'i', changeId: 'c', seriesId: 's' };
    expect(importRequestOf(doubtful('d'), {}, ids)).toBeNull();
    expect(importRequestOf(waiting(), {}, ids)).toMatchObject({ mapping: MAPPING, isRemembered: true });
    const known = waiting({ look: look({ mappingIs: 'remembered' }) });
    expect(importRequestOf(known, {}, ids)).toMatchObject({ isRemembered: false });
  });
});
