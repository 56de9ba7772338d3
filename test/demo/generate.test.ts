// The demonstration series: apart from the program, the same each time, whole, and physically possible.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { generateDemo } from '../../demo/generate.ts';
import type { Demo } from '../../demo/records.ts';
import { measurementSettingsSchema, RECORD_SCHEMAS } from '../../src/records/kinds.ts';
import { identifierBook, withIdentifiers } from './labels.ts';

const DEMO_FOLDER = join(import.meta.dirname, '../../demo');
const demo = generateDemo();

/** The text of a file whatever its encoding. */
function textOf(bytes: Uint8Array): string {
  const isTwoByte = bytes[0] === 0xff && bytes[1] === 0xfe;
  return new TextDecoder(isTwoByte ? 'utf-16le' : 'latin1').decode(bytes);
}

const recordsOf = (made: Demo) => ({
  lot: made.lots,
  target: made.targets,
  run: made.runs,
  film: made.films,
  piece: made.pieces,
  treatment: made.treatments,
  typedFacts: made.typedFacts,
  series: [made.series],
});

describe('the demonstration series', () => {
  it('imports nothing of the program', () => {
    const sources = readdirSync(DEMO_FOLDER).filter((name) => name.endsWith('.ts'));
    expect(sources.length).toBeGreaterThan(5);
    for (const name of sources) {
      const imported = [
        ...readFileSync(join(DEMO_FOLDER, name), 'utf8').matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g),
      ];
      for (const [, path] of imported) expect(path, name).toMatch(/^(\.\/[a-z-]+\.ts|node:[a-z]+)$/);
    }
  });

  it('is the same bytes for the same seed, and others for another', () => {
    expect(generateDemo()).toEqual(demo);
    const first = (made: Demo) => Buffer.from(made.files[0]!.bytes).toString('hex');
    expect(first(generateDemo(14))).not.toBe(first(demo));
  });

  it('keeps its first films when more are asked for, and stays small', () => {
    const large = generateDemo(13, 40);
    expect(large.films.length).toBe(40);
    expect(large.films.slice(0, 12)).toEqual(demo.films);
    expect(large.files.slice(0, demo.files.length)).toEqual(demo.files);
    expect(large.files.reduce((sum, { bytes }) => sum + bytes.length, 0)).toBeLessThan(15e6);
  });

  it.each([[12], [40]])('is taken by the record schemas, with %d films', (filmCount) => {
    const identifierOf = identifierBook();
    for (const [kind, records] of Object.entries(recordsOf(generateDemo(13, filmCount)))) {
      for (const record of records) {
        const body = withIdentifiers(record, identifierOf);
        const result = RECORD_SCHEMAS[kind as keyof typeof RECORD_SCHEMAS].safeParse(body);
        expect(result.error, `${kind} ${JSON.stringify(body)}`).toBeUndefined();
      }
    }
  });

  it('names only records that it holds, under labels that occur once', () => {
    const groups = recordsOf(demo);
    const labels = new Map(
      (['lot', 'target', 'run', 'film', 'piece', 'treatment'] as const).map((kind) => {
        const list = groups[kind].map((record) => record.label);
        expect(new Set(list).size, kind).toBe(list.length);
        return [kind, new Set(list)] as const;
      }),
    );
    const has = (kind: 'lot' | 'target' | 'run' | 'film' | 'piece' | 'treatment', label: string) =>
      expect(labels.get(kind)!.has(label), `${kind} ${label}`).toBe(true);
    for (const target of demo.targets) for (const label of target.lotLabels) has('lot', label);
    for (const run of demo.runs) has('target', run.targetLabel);
    for (const film of demo.films) has('run', film.runLabel);
    for (const piece of demo.pieces) has('film', piece.filmLabel);
    for (const treatment of demo.treatments) has('piece', treatment.pieceLabel);
    for (const file of demo.files) {
      has('piece', file.pieceLabel);
      if (file.stateLabel !== null) has('treatment', file.stateLabel);
    }
    has('piece', demo.series.benchmarkPieceLabel);
    has('piece', demo.series.controlPieceLabel);
  });

  it('says in every file and on every record that it is invented', () => {
    for (const { name, bytes } of demo.files) {
      expect(textOf(bytes).split('\n')[0], name).toMatch(/Invented data/);
    }
    expect(demo.pastFilmsCsv.split('\n')[0]).toMatch(/Invented data/);
    for (const records of Object.values(recordsOf(demo))) {
      for (const record of records) expect(record.note).toMatch(/Invented data/);
    }
    expect(demo.series.isInvented).toBe(true);
  });

  it('names each file once, after its piece, with settings that a measurement may hold', () => {
    const names = demo.files.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    for (const { name, pieceLabel, settings } of demo.files) {
      expect(name).toContain(pieceLabel);
      expect(measurementSettingsSchema.safeParse(settings).success, name).toBe(true);
    }
  });

  it('writes files in several encodings, separators and decimal signs', () => {
    const files = demo.files.map(({ bytes }) => ({ bytes, text: textOf(bytes) }));
    expect(files.some(({ bytes }) => bytes[0] === 0xff && bytes[1] === 0xfe)).toBe(true);
    expect(files.some(({ text }) => text.includes('\u00b0'))).toBe(true);
    expect(files.some(({ text }) => text.includes('\u00b5V'))).toBe(true);
    expect(files.some(({ text }) => /^\d+,\d+;\d+/m.test(text))).toBe(true);
    expect(files.some(({ text }) => /^[\d.]+,[\d.]+$/m.test(text))).toBe(true);
    expect(files.some(({ text }) => /^[\d.]+\t[\d.]+$/m.test(text))).toBe(true);
  });

  it('counts whole photons', () => {
    for (const { kind, bytes, name } of demo.files) {
      if (kind !== 'diffraction scan') continue;
      const rows = textOf(bytes)
        .split(/\r?\n/)
        .filter((line) => /^\d+[.,]\d\d[\t; ]/.test(line));
      expect(rows.length, name).toBe(3751);
      for (const line of rows) expect(line, name).toMatch(/[\t; ]\d+$/);
    }
  });

  it.each([[1], [41], [2.5]])('refuses %d films', (filmCount) => {
    expect(() => generateDemo(13, filmCount)).toThrow(/whole number from 2 to 40/);
  });

  it('refuses a seed below zero', () => {
    expect(() => generateDemo(-1)).toThrow(/seed is -1/);
  });
});
