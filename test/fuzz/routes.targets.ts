// What the routes are fuzzed with: each target is one route that takes a body, and the bodies it usually gets. Sent
// anything else it must answer soon, in words, and never with a fault.
import type { FastifyInstance } from 'fastify';
import { CATALOGUE } from '../../src/computations/catalogue.ts';
import {
  filmBody,
  lotBody,
  pieceBody,
  runBody,
  seriesBody,
  targetBody,
  treatmentBody,
} from '../logbook/bodies.ts';

/** Identifiers of records that are there when the fuzzing begins. */
export interface FuzzedStore {
  readonly seriesId: string;
  readonly filmId: string;
  readonly pieceId: string;
  readonly measurementId: string;
  /** of a file that was sent, and of one that was read in */
  readonly sha256: string;
  readonly tableSha256: string;
  newId(): string;
}

export interface RouteTarget {
  readonly name: string;
  readonly seedInputs: readonly Uint8Array[];
  /** sends bytes as a body; throws only a broken promise of the server */
  run(bytes: Uint8Array): Promise<void>;
}

const bytesOf = (value: unknown): Uint8Array => new TextEncoder().encode(JSON.stringify(value));

const MAPPING = {
  kind: 'resistance',
  block: 0,
  columns: [
    { role: 'temperatureK', column: 0, unit: 'K' },
    { role: 'resistanceOhm', column: 1, unit: 'kOhm' },
  ],
};

function bodiesByRoute(store: FuzzedStore): [route: string, bodies: unknown[]][] {
  const { seriesId, filmId, pieceId, measurementId, sha256, tableSha256, newId } = store;
  const created = (body: object, series: string | null = seriesId) => ({
    id: newId(),
    changeId: newId(),
    seriesId: series,
    body,
  });
  const look = { sha256, fileName: 'P1.txt', seriesId };
  const order = {
    id: newId(),
    changeId: newId(),
    seriesId,
    pieceId,
    stateTreatmentId: null,
    fileSha256: sha256,
    fileName: 'P1.txt',
    mapping: MAPPING,
    settings: { temperatureK: 77, tapDistanceM: 1e-3 },
    isRemembered: true,
  };
  const table = { seriesId, sha256: tableSha256, fileName: 'past.csv', mapping: null };
  return [
    ...CATALOGUE.map(({ name, example }): [string, unknown[]] => [`/api/computations/${name}`, [example]]),
    ['/api/records/series', [created(seriesBody(), null)]],
    ['/api/records/lot', [created(lotBody())]],
    [
      '/api/records/target',
      [created({ ...targetBody('T'), sheet: { computation: 'c', version: 1, request: {}, response: [] } })],
    ],
    ['/api/records/run', [created(runBody('R', null))]],
    ['/api/records/film', [created({ ...filmBody('F', null), cations: { Y: 1, Ba: 2, Cu: 3 } })]],
    ['/api/records/piece', [created(pieceBody('P', filmId))]],
    ['/api/records/treatment', [created(treatmentBody('A', pieceId))]],
    ['/api/records/rememberedMapping', [created({ shape: 's', mapping: MAPPING, settings: {} }, null)]],
    ['/api/records/verdict', [created({})]],
    ['/api/imports/look', [look]],
    ['/api/imports', [order]],
    [
      `/api/measurements/${measurementId}/reduce`,
      [{ changeId: newId(), settings: { anode: 'Cu', fieldT: -1 } }],
    ],
    ['/api/tables/look', [table]],
    ['/api/tables/import', [{ ...table, changeId: newId() }]],
    [`/api/series/${seriesId}/judge`, [{ changeId: newId(), pieceIds: [pieceId] }]],
    [`/api/series/${seriesId}/propose`, [{ changeId: newId(), count: 1 }]],
    [`/api/changes/${newId()}/undo`, [{ changeId: newId() }]],
  ];
}

/** Every answer that is no success says what is wrong; a fault is never an answer. */
async function send(
  app: FastifyInstance,
  host: string,
  url: string,
  type: string,
  bytes: Uint8Array,
): Promise<number> {
  const response = await app.inject({
    method: 'POST',
    url,
    headers: { host, 'x-peritect': '1', 'content-type': type },
    payload: Buffer.from(bytes),
  });
  const { statusCode, body } = response;
  if (statusCode >= 500) throw new Error(`${url} answered ${statusCode}: ${body.slice(0, 300)}`);
  if (statusCode < 400) return statusCode;
  const { code, sentence, remedy } = JSON.parse(body) as Record<string, unknown>;
  const isInWords = [code, sentence, remedy].every((each) => typeof each === 'string' && each !== '');
  if (!isInWords) throw new Error(`${url} answered ${statusCode} without words: ${body.slice(0, 300)}`);
  return statusCode;
}

/** One target for each route that takes a body. */
export function routeTargets(app: FastifyInstance, host: string, store: FuzzedStore): RouteTarget[] {
  const json = bodiesByRoute(store).map(([route, bodies]) => ({
    name: route,
    seedInputs: bodies.map(bytesOf),
    async run(bytes: Uint8Array) {
      await send(app, host, route, 'application/json', bytes);
    },
  }));
  const upload: RouteTarget = {
    name: 'upload, look, read in',
    seedInputs: [
      'T (K)\tR (kOhm)\n80\t0\n81\t0\n90\t1\n100\t1.1\n200\t2\n300\t3\n',
      'Field (T),Moment (emu)\n1,2e-3\n0,3e-3\n-1,2e-3\n0,-3e-3\n1,-2e-3\n',
      '2theta;counts\n10,0;5\n10,1;7\n10,2;6\n',
    ].map((text) => new TextEncoder().encode(text)),
    async run(bytes) {
      const response = await app.inject({
        method: 'POST',
        url: '/api/files',
        headers: { host, 'x-peritect': '1', 'content-type': 'application/octet-stream' },
        payload: Buffer.from(bytes),
      });
      if (response.statusCode !== 201) throw new Error(`the upload was answered ${response.statusCode}`);
      const { sha256 } = response.json() as { sha256: string };
      const { seriesId, pieceId, newId } = store;
      const look = { sha256, fileName: 'P1.txt', seriesId };
      const headers = { host, 'x-peritect': '1', 'content-type': 'application/json' };
      const looked = await app.inject({ method: 'POST', url: '/api/imports/look', headers, payload: look });
      if (looked.statusCode >= 500) throw new Error(`the look was answered ${looked.body.slice(0, 300)}`);
      await send(app, host, '/api/tables/look', 'application/json', bytesOf({ ...look, mapping: null }));
      if (looked.statusCode !== 200 || looked.json().mapping === null) return;
      const { mapping, settings } = looked.json();
      const order = {
        ...{ id: newId(), changeId: newId(), seriesId, pieceId, stateTreatmentId: null },
        ...{ fileSha256: sha256, fileName: 'P1.txt', mapping, settings, isRemembered: false },
      };
      await send(app, host, '/api/imports', 'application/json', bytesOf(order));
    },
  };
  return [...json, upload];
}
