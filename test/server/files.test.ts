import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { request as httpRequest } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { MAX_FILE_BYTES } from '../../src/api/contract.ts';
import type { Workbench } from '../../src/jobs/workbench.ts';
import { newId } from '../../src/logbook/ids.ts';
import { buildApp } from '../../src/server/app.ts';
import { attachmentNamed } from '../../src/server/routes/imports.ts';
import { type AddedPiece, addedPiece, benchHere, bytesOfFile } from '../jobs/bench.ts';
import { clearStores, newFolder, openedStore } from '../logbook/opened-store.ts';
import { resistanceFile } from '../simulate/instrument-files.ts';
import { type OpenedApp, openedApp, problemIn } from './opened-app.ts';

let folder: string;
let bench: Workbench;
let opened: OpenedApp;
beforeEach(async () => {
  folder = await newFolder();
  bench = await benchHere(await openedStore({ folder }));
  opened = await openedApp({ bench });
});
afterEach(async () => {
  await opened.app.close();
  await clearStores();
});

const FILE = resistanceFile({ pieceLabel: 'P1', midpointK: 90, widthK: 1, resistanceAt300Ohm: 12 });

/** Raw files of the store, those half-written and the claims on them. */
function inFolder(): { files: number; halfWritten: number; claims: number } {
  const names = (name: string) => readdirSync(join(folder, 'files', name));
  const starts = readdirSync(join(folder, 'files')).filter((name) => name.length === 2);
  return {
    files: starts.flatMap(names).length,
    halfWritten: names('incoming').length,
    claims: names('claims').length,
  };
}

async function sent(bytes: Uint8Array): Promise<string> {
  const response = await opened.ask('POST', '/api/files', { body: bytes });
  expect(response.statusCode).toBe(201);
  return (response.json() as { sha256: string }).sha256;
}

async function orderOf(piece: AddedPiece, fileName: string, sha256: string) {
  const look = await opened.ask('POST', '/api/imports/look', {
    body: { sha256, fileName, seriesId: piece.seriesId },
  });
  expect(look.statusCode, look.body).toBe(200);
  const { mapping, settings } = look.json();
  return {
    id: newId(),
    changeId: newId(),
    seriesId: piece.seriesId,
    pieceId: piece.pieceId,
    stateTreatmentId: null,
    fileSha256: sha256,
    fileName,
    mapping,
    settings,
    isRemembered: false,
  };
}

describe('a file over HTTP', () => {
  it('is sent, looked at, read in, judged, seen as a curve, and had back byte for byte as an attachment only', async () => {
    const piece = await addedPiece(bench.store);
    const sha256 = await sent(bytesOfFile(FILE));
    const order = await orderOf(piece, FILE.name, sha256);
    const imported = await opened.ask('POST', '/api/imports', { body: order });
    expect(imported.statusCode, imported.body).toBe(201);
    const repeated = await opened.ask('POST', '/api/imports', { body: order });
    expect(repeated.json()).toEqual(imported.json());
    const view = (await opened.ask('GET', `/api/series/${piece.seriesId}`)).json();
    expect(view.verdicts).toHaveLength(1); // a repeat judges nothing anew
    expect(await bench.store.read.list('verdict')).toHaveLength(1);
    const curve = (await opened.ask('GET', `/api/measurements/${order.id}`)).json();
    expect(curve).toMatchObject({ roles: ['temperatureK', 'resistanceOhm'], isStale: false });
    const raw = await opened.ask('GET', `/api/files/${sha256}`);
    expect(raw.rawPayload).toEqual(Buffer.from(bytesOfFile(FILE)));
    expect(raw.headers).toMatchObject({
      'content-type': 'application/octet-stream',
      'content-security-policy': "default-src 'none'; sandbox",
      'content-disposition': "attachment; filename*=UTF-8''P1%20transition.txt",
      'x-content-type-options': 'nosniff',
    });
    expect(inFolder()).toEqual({ files: 2, halfWritten: 0, claims: 0 });
  });

  it('reduced again over HTTP has its new analysis beside the old', async () => {
    const piece = await addedPiece(bench.store);
    const order = await orderOf(piece, FILE.name, await sent(bytesOfFile(FILE)));
    await opened.ask('POST', '/api/imports', { body: order });
    const settings = { thermometerUncertaintyK: 0.5 };
    const again = await opened.ask('POST', `/api/measurements/${order.id}/reduce`, {
      body: { changeId: newId(), settings },
    });
    expect(again.json()).toMatchObject({ measurement: { revision: 2, body: { settings } } });
    expect(await bench.store.read.list('analysis')).toHaveLength(2);
  });

  it.each([
    '"; filename=evil.exe; x="',
    'two\r\nSet-Cookie: a=b',
    '../../etc/passwd',
    'C:\\windows\\system.ini',
    'Schicht \u03b8 (\u00fc) \u{1f9ea}.txt',
    "it's (1) * 100%.txt",
    '\u202egpj.exe',
    '\ud800 half a letter',
    '...',
  ])('called %j is handed back under a name that is one plain part of a path', async (name) => {
    const piece = await addedPiece(bench.store);
    const sha256 = await sent(bytesOfFile(FILE));
    const order = await orderOf(piece, name, sha256);
    const imported = await opened.ask('POST', '/api/imports', { body: order });
    expect(imported.statusCode, imported.body).toBe(201);
    const { headers } = await opened.ask('GET', `/api/files/${sha256}`);
    const disposition = headers['content-disposition'] as string;
    expect(disposition).toMatch(/^attachment; filename\*=UTF-8''(?:[\w!#$&+.^`|~-]|%[0-9A-F]{2})+$/);
    expect(decodeURIComponent(disposition.slice(29))).not.toMatch(/[/\\\r\n"]|^\./);
    expect(headers['set-cookie']).toBeUndefined();
  });

  it('keeps the letters of a name that harm nobody', () => {
    const disposition = attachmentNamed('Film \u03b8 12\u00b5m.txt');
    expect(decodeURIComponent(disposition.slice(29))).toBe('Film \u03b8 12\u00b5m.txt');
  });

  it('that was never sent, or is none, is refused', async () => {
    expect(problemIn(await opened.ask('GET', `/api/files/${'a'.repeat(64)}`))).toMatchObject({
      status: 404,
      code: 'FILE_UNKNOWN',
    });
    expect(problemIn(await opened.ask('GET', '/api/files/..%2f..%2flogbook.sqlite')).status).toBe(400);
    const piece = await addedPiece(bench.store);
    const look = { sha256: 'b'.repeat(64), fileName: 'x.txt', seriesId: piece.seriesId };
    expect(problemIn(await opened.ask('POST', '/api/imports/look', { body: look }))).toMatchObject({
      status: 404,
    });
  });

  it('sent as JSON or as text is refused, and nothing is kept', async () => {
    for (const type of ['application/json', 'text/plain']) {
      const refused = await opened.app.inject({
        method: 'POST',
        url: '/api/files',
        headers: { host: '127.0.0.1:4530', 'x-peritect': '1', 'content-type': type },
        payload: '{"a": 1}',
      });
      expect(problemIn(refused)).toMatchObject({ status: 400, code: 'BODY_INVALID' });
    }
    expect(inFolder()).toEqual({ files: 0, halfWritten: 0, claims: 0 });
  });

  it('whose bytes are gone from the disk is said to be missing, not given as something else', async () => {
    const piece = await addedPiece(bench.store);
    const sha256 = await sent(bytesOfFile(FILE));
    const order = await orderOf(piece, FILE.name, sha256);
    await opened.ask('POST', '/api/imports', { body: order });
    const path = join(folder, 'files', sha256.slice(0, 2), sha256.slice(2));
    expect(readFileSync(path)).toHaveLength(FILE.text.length);
    rmSync(path);
    expect(problemIn(await opened.ask('GET', `/api/files/${sha256}`)).code).toBe('FILE_MISSING');
  });
});

describe('an upload through a real socket', () => {
  let port = 0;
  beforeEach(async () => {
    const app = await buildApp({ bench, clock: () => new Date(), pagesFolder: null, port: () => port });
    await opened.app.close();
    await app.listen({ host: '127.0.0.1', port: 0 });
    port = (app.server.address() as AddressInfo).port;
    opened = { ...opened, app };
  });

  const headers = { 'content-type': 'application/octet-stream', 'x-peritect': '1' };
  const url = () => `http://127.0.0.1:${port}/api/files`;

  it('of one byte more than 20 MB is refused with 413 in words, and nothing of it is left', async () => {
    const body = new Uint8Array(MAX_FILE_BYTES + 1);
    const response = await fetch(url(), { method: 'POST', headers, body });
    expect(response.status).toBe(413);
    expect(await response.json()).toMatchObject({
      code: 'FILE_TOO_LARGE',
      sentence: expect.stringContaining('20971520'),
    });
    expect(inFolder()).toEqual({ files: 0, halfWritten: 0, claims: 0 });
    const exact = await fetch(url(), { method: 'POST', headers, body: body.subarray(1) });
    expect(exact.status).toBe(201);
    expect(await exact.json()).toMatchObject({ bytes: MAX_FILE_BYTES });
  });

  it('whose sender hangs up halfway leaves nothing, and the next is taken', async () => {
    for (let i = 0; i < 5; i++) {
      await new Promise<void>((resolve) => {
        const own = { ...headers, 'content-length': '1000000' };
        const request = httpRequest({ port, method: 'POST', path: '/api/files', headers: own });
        request.on('error', () => {});
        request.on('close', resolve);
        request.write(Buffer.alloc(100_000 + i), () => setTimeout(() => request.destroy(), 5 * i));
      });
    }
    for (let i = 0; i < 100 && inFolder().halfWritten > 0; i++) await sleep(20);
    expect(inFolder()).toEqual({ files: 0, halfWritten: 0, claims: 0 });
    expect(await bench.store.sweepFiles()).toEqual({ files: 0, leftovers: 0 });
    expect((await fetch(url(), { method: 'POST', headers, body: 'a,b\n1,2\n' })).status).toBe(201);
  });

  it('of twenty files at once is twenty files', async () => {
    const bodies = Array.from({ length: 20 }, (_, i) => `a,b\n${i},2\n`.repeat(3000));
    const answers = await Promise.all(bodies.map((body) => fetch(url(), { method: 'POST', headers, body })));
    expect(answers.map(({ status }) => status)).toEqual(bodies.map(() => 201));
    expect(inFolder()).toEqual({ files: 20, halfWritten: 0, claims: 20 });
  });
});
