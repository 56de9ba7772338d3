// A table of past films: looked at with its doubts, then read in as one change. Its numbers are typed, without a raw file.
import type { z } from 'zod';
import type {
  tableImportAnswerSchema,
  tableImportRequestSchema,
  tableLookSchema,
  tableRequestSchema,
} from '../api/contract.ts';
import { filmOfRows, rowsByFilm } from '../formats/film-table/rows-of-film.ts';
import {
  FILM_FIELD_NAMES,
  FILM_FIELDS,
  type FilmTableMapping,
  filmTableMappingSchema,
  type TableFilm,
  unitsOfFilmField,
} from '../formats/film-table/schema.ts';
import { newId } from '../logbook/ids.ts';
import type { Fact, PhaseFact } from '../records/criteria.ts';
import type { Film, Run, TypedFacts } from '../records/kinds.ts';
import { JobError } from './errors.ts';
import type { ReadTable } from './file-tasks.ts';
import { readOrThrow } from './look-at-upload.ts';
import type { Workbench } from './workbench.ts';

type TableOrder = z.infer<typeof tableRequestSchema>;
type TableLook = z.infer<typeof tableLookSchema>;

const TYPED = 'typed, no raw file';

async function readTable({ store, uploads, files }: Workbench, order: TableOrder): Promise<ReadTable> {
  let mapping: FilmTableMapping | null = null;
  if (order.mapping !== null && order.mapping !== undefined) {
    const parsed = filmTableMappingSchema.safeParse(order.mapping);
    if (!parsed.success)
      throw new JobError('TABLE_FIELD', `The mapping is not one: ${parsed.error.issues[0]?.message}.`);
    mapping = parsed.data;
  }
  const { rareEarths } = (await store.read.findOrThrow('series', order.seriesId)).body;
  const usualRareEarth = rareEarths.length === 1 ? rareEarths[0]! : null;
  const bytes = await uploads.bytesOf(order.sha256);
  return readOrThrow(await files.readTable(bytes, mapping, usualRareEarth, order.reading), order.fileName);
}

/** A dry run: what would be made, and what is doubtful. Nothing is recorded. */
export async function lookAtTable(bench: Workbench, order: TableOrder): Promise<TableLook> {
  const { headings, rowCount, firstRows, mapping, films, doubts } = await readTable(bench, order);
  const known = await bench.store.read.list('film', { seriesId: order.seriesId });
  const twice = films
    .filter(({ label }) => known.some((film) => film.body.label === label))
    .map(({ row, label }) => ({
      row,
      column: FILM_FIELDS.label.label,
      found: label,
      expected: 'a film that is not recorded yet',
      message: `The series has a film ${label} already; reading this row in makes another of the same name.`,
    }));
  return {
    headings,
    rowCount,
    firstRows,
    fields: FILM_FIELD_NAMES.map((field) => ({
      field,
      label: FILM_FIELDS[field].label,
      units: unitsOfFilmField(field),
    })),
    mapping,
    films: [...films],
    doubts: [...doubts, ...twice],
  };
}

function typedNumbers(film: TableFilm): Fact[] {
  const number = (name: Fact['name'], value: number | null, at?: Fact['at']): Fact[] =>
    value === null
      ? []
      : [{ name, value, standardUncertainty: null, origin: 'typed', method: TYPED, ...(at ? { at } : {}) }];
  return [
    ...number('tcMidpointK', film.tcMidpointK),
    ...number('tcOnsetK', film.tcOnsetK),
    ...number('transitionWidthK', film.transitionWidthK),
    ...film.jc.flatMap(({ jcAPerM2, at }) => number('jcAPerM2', jcAPerM2, at ?? undefined)),
  ];
}

const stated = (value: number | null): Film['thicknessNm'] =>
  value === null ? null : { value, standardUncertainty: null };

type WholeFilm = ReturnType<typeof filmOfRows>;

function filmBody(film: WholeFilm, runId: string | null): Film {
  return {
    label: film.label,
    runId,
    cations: film.cations,
    substrate: film.substrate ?? 'not stated',
    substrateLot: '',
    position: '',
    thicknessNm: stated(film.thicknessNm),
    depositionRateNmPerS: null,
    conversionRateNmPerS: null,
    overallRateNmPerS: stated(film.overallRateNmPerS),
    note: film.note ?? '',
  };
}

/** What the table says of the run; null where it says nothing of one. */
function runBody(film: WholeFilm): Run | null {
  const { route, temperatureC, po2Pa } = film;
  if (route === null && temperatureC === null && po2Pa === null) return null;
  return {
    label: `run of ${film.label}`,
    targetId: null,
    startedAt: null,
    route: route ?? 'not stated',
    source: 'other',
    energyAtTargetMj: null,
    energyBeforeWindowMj: null,
    energyAfterWindowMj: null,
    spotAreaMm2: null,
    distanceMm: null,
    repetitionHz: null,
    pulses: null,
    pulsesSinceResurfacing: null,
    preAblationPulses: null,
    rateNmPerS: null,
    chamberId: null,
    basePressurePa: null,
    temperature:
      temperatureC === null ? null : { valueC: temperatureC, place: 'heater block', offsetK: null },
    pressure: po2Pa === null ? null : { valuePa: po2Pa, kind: 'oxygen partial', gauge: '', oxygenShare: 1 },
    mounting: '',
    isWindowCleaned: null,
    note: '',
  };
}

/** Reads the films of a table in, as one change that can be undone as one. */
export async function importTable(
  bench: Workbench,
  order: z.infer<typeof tableImportRequestSchema>,
): Promise<z.infer<typeof tableImportAnswerSchema>> {
  const { changeId, seriesId, fileName, sha256 } = order;
  const { films } = await readTable(bench, order);
  if (films.length === 0)
    throw new JobError('TABLE_NO_ROWS', `${fileName} holds no film that could be read.`);
  const byFilm = rowsByFilm(films);
  const claim = bench.uploads.claimOf(sha256);
  const what = `read in ${byFilm.length} past films of ${fileName}`;
  const answer = await bench.store.write({ changeId, what, seriesId }, async (transaction) => {
    if (claim) await transaction.addFile(claim, { name: fileName, media: 'text/plain' });
    let pieceCount = 0;
    for (const rows of byFilm) {
      const whole = filmOfRows(rows);
      const { label } = whole;
      const run = runBody(whole);
      const runId = run ? (await transaction.create('run', newId(), seriesId, run)).id : null;
      const film = await transaction.create('film', newId(), seriesId, filmBody(whole, runId));
      for (const [i, row] of rows.entries()) {
        const pieceLabel = row.pieceLabel ?? (rows.length === 1 ? label : `${label} row ${i + 1}`);
        const piece = await transaction.create('piece', newId(), seriesId, {
          label: pieceLabel,
          filmId: film.id,
          lengthMm: null,
          widthMm: null,
          note: row.note === whole.note ? '' : (row.note ?? ''),
        });
        pieceCount++;
        const numbers = typedNumbers(row);
        const phases = row.phases.map((phase): PhaseFact => ({ phase, answer: 'present', origin: 'typed' }));
        if (numbers.length + phases.length === 0) continue;
        const facts: TypedFacts = {
          pieceId: piece.id,
          stateTreatmentId: null,
          numbers,
          phases,
          composition: null,
          source: `${fileName}, row ${row.row}, SHA-256 ${sha256}`,
          note: '',
        };
        await transaction.create('typedFacts', newId(), seriesId, facts);
      }
    }
    return { changeId, filmCount: byFilm.length, pieceCount };
  });
  await bench.uploads.forget(sha256);
  return answer;
}
