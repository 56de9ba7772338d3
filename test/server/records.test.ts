import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { newId } from '../../src/logbook/ids.ts';
import { filmBody, measurementBody, pieceBody, seriesBody } from '../logbook/bodies.ts';
import { clearStores } from '../logbook/opened-store.ts';
import { type OpenedApp, openedApp, problemIn } from './opened-app.ts';

let opened: OpenedApp;
beforeAll(async () => {
  opened = await openedApp();
});
afterAll(async () => {
  await opened.app.close();
  await clearStores();
});

async function made(kind: string, seriesId: string | null, body: object, id = newId()): Promise<string> {
  const response = await opened.ask('POST', `/api/records/${kind}`, {
    body: { id, changeId: newId(), seriesId, body },
  });
  expect(response.statusCode, response.body).toBe(201);
  return id;
}

const newSeries = (label = 'S') => made('series', null, seriesBody(label));
const revisionOf = async (kind: string, id: string) =>
  (await opened.ask('GET', `/api/records/${kind}/${id}`)).json() as { revision: number; body: object };

describe('a record over HTTP', () => {
  it('is made, read, revised as it was seen, and shows all it has been', async () => {
    const id = await newSeries('first');
    const seen = await revisionOf('series', id);
    expect(seen).toMatchObject({ revision: 1, body: { label: 'first' } });
    const revised = await opened.ask('PUT', `/api/records/series/${id}`, {
      headers: { 'if-match': '"1"' },
      body: { changeId: newId(), body: { ...seen.body, label: 'second' } },
    });
    expect(revised.json()).toMatchObject({ revision: 2, body: { label: 'second' } });
    const history = (await opened.ask('GET', `/api/records/series/${id}/revisions`)).json();
    expect(history).toMatchObject([{ body: { label: 'first' } }, { body: { label: 'second' } }]);
  });

  it('made twice under one change is made once and answered alike', async () => {
    const body = { id: newId(), changeId: newId(), seriesId: null, body: seriesBody('once') };
    const [one, other] = [
      await opened.ask('POST', '/api/records/series', { body }),
      await opened.ask('POST', '/api/records/series', { body }),
    ];
    expect(other.statusCode).toBe(201);
    expect(other.json()).toEqual(one.json());
    const again = await opened.ask('POST', '/api/records/series', { body: { ...body, changeId: newId() } });
    expect(problemIn(again)).toMatchObject({ status: 422, code: 'RECORD_EXISTS' });
  });

  it('is not revised without the revision that was seen, nor by an old one, which is answered with how it stands', async () => {
    const id = await newSeries();
    const { body } = await revisionOf('series', id);
    const put = (headers: Record<string, string>, label: string) =>
      opened.ask('PUT', `/api/records/series/${id}`, {
        headers,
        body: { changeId: newId(), body: { ...body, label } },
      });
    expect(problemIn(await put({}, 'x'))).toMatchObject({ status: 428, code: 'IF_MATCH_MISSING' });
    expect(problemIn(await put({ 'if-match': '*' }, 'x'))).toMatchObject({ status: 428 });
    await put({ 'if-match': '1' }, 'theirs');
    const refused = problemIn(await put({ 'if-match': '1' }, 'mine'));
    expect(refused).toMatchObject({
      status: 412,
      code: 'REVISION_IS_OLD',
      current: { revision: 2, body: { label: 'theirs' } },
    });
    expect(await revisionOf('series', id)).toMatchObject({ revision: 2, body: { label: 'theirs' } });
  });

  it('is removed with what hangs on it, once, and brought back by undoing the change', async () => {
    const seriesId = await newSeries();
    const filmId = await made('film', seriesId, filmBody('F', null));
    const pieceId = await made('piece', seriesId, pieceBody('P', filmId));
    const changeId = newId();
    const remove = () =>
      opened.ask('DELETE', `/api/records/film/${filmId}?changeId=${changeId}`, {
        headers: { 'if-match': '1' },
      });
    const first = await remove();
    expect((first.json() as { id: string }[]).map(({ id }) => id)).toEqual([filmId, pieceId]);
    expect((await remove()).json()).toEqual(first.json());
    expect(problemIn(await opened.ask('GET', `/api/records/piece/${pieceId}`))).toMatchObject({
      code: 'RECORD_REMOVED',
    });
    const undo = { changeId: newId() };
    const undone = await opened.ask('POST', `/api/changes/${changeId}/undo`, { body: undo });
    expect(undone.json()).toEqual(undo);
    expect((await opened.ask('POST', `/api/changes/${changeId}/undo`, { body: undo })).statusCode).toBe(200);
    expect(await revisionOf('piece', pieceId)).toMatchObject({ revision: 3, body: { label: 'P' } });
    const changes = (await opened.ask('GET', `/api/series/${seriesId}/changes`)).json();
    expect(changes[0]).toMatchObject({ id: undo.changeId, undoes: changeId });
    expect(changes[1]).toMatchObject({ id: changeId, isUndone: true, what: 'removed film F' });
    const unknown = await opened.ask('POST', `/api/changes/${newId()}/undo`, { body: { changeId: newId() } });
    expect(problemIn(unknown)).toMatchObject({ status: 404, code: 'CHANGE_UNKNOWN' });
  });

  it('whose body does not fit names each field with what was found', async () => {
    const wrong = { ...seriesBody(), rareEarths: [], extra: 1, growth: { temperatureC: 9999, po2Atm: 1 } };
    const response = await opened.ask('POST', '/api/records/series', {
      body: { id: newId(), changeId: newId(), seriesId: null, body: wrong },
    });
    expect(problemIn(response)).toMatchObject({
      status: 422,
      code: 'RECORD_BODY',
      sentence: expect.stringMatching(/rareEarths.*temperatureC.*9999/s),
    });
  });

  it('that names what is not there, or what is of another series, is refused', async () => {
    const [one, other] = [await newSeries(), await newSeries()];
    const filmId = await made('film', one, filmBody('F', null));
    const piece = (seriesId: string, film: string) =>
      opened.ask('POST', '/api/records/piece', {
        body: { id: newId(), changeId: newId(), seriesId, body: pieceBody('P', film) },
      });
    expect(problemIn(await piece(one, newId()))).toMatchObject({ status: 422, code: 'RECORD_LINK' });
    expect(problemIn(await piece(other, filmId))).toMatchObject({ status: 422, code: 'RECORD_SERIES' });
  });

  it('of a kind that only the program makes cannot be written by hand', async () => {
    const seriesId = await newSeries();
    const bodies = {
      measurement: measurementBody('M', {
        pieceId: newId(),
        fileSha256: 'a'.repeat(64),
        fileBytes: 1,
        blob: 'a'.repeat(64),
      }),
      verdict: {
        pieceId: newId(),
        stateTreatmentId: null,
        computation: 'learning.verdict',
        effectiveVersion: '',
        version: 1,
        request: {},
        response: null,
      },
    };
    for (const [kind, body] of Object.entries(bodies)) {
      const response = await opened.ask('POST', `/api/records/${kind}`, {
        body: { id: newId(), changeId: newId(), seriesId, body },
      });
      expect(problemIn(response)).toMatchObject({ status: 403, code: 'KIND_COMPUTED' });
    }
    expect((await opened.ask('GET', `/api/series/${seriesId}`)).statusCode).toBe(200);
  });

  it('of an unknown kind or identifier is 404, a name that is no identifier 400', async () => {
    const kind = problemIn(await opened.ask('GET', `/api/records/molecule/${newId()}`));
    expect(kind).toMatchObject({
      status: 404,
      code: 'KIND_UNKNOWN',
      sentence: expect.stringContaining('film'),
    });
    expect(problemIn(await opened.ask('GET', `/api/records/film/${newId()}`))).toMatchObject({
      status: 404,
      code: 'RECORD_UNKNOWN',
    });
    expect(problemIn(await opened.ask('GET', '/api/records/film/7'))).toMatchObject({
      status: 400,
      code: 'BODY_INVALID',
    });
    const seriesId = await newSeries();
    expect(problemIn(await opened.ask('GET', `/api/records/film/${seriesId}`))).toMatchObject({
      code: 'RECORD_UNKNOWN',
    });
  });
});

describe('what a request cannot hold', () => {
  const url = '/api/records/series';
  const text = (payload: string, type = 'application/json') =>
    opened.app.inject({
      method: 'POST',
      url,
      headers: { host: '127.0.0.1:4530', 'x-peritect': '1', 'content-type': type },
      payload,
    });

  it.each([
    ['no JSON', '{"id": ', 400],
    ['nothing', '', 400],
    ['a key that reaches for the prototype', '{"__proto__": {"isAdmin": true}}', 400],
    ['a constructor with a prototype', '{"constructor": {"prototype": {"a": 1}}}', 400],
    ['JSON a hundred thousand levels deep', `${'['.repeat(100_000)}${']'.repeat(100_000)}`, 400],
    ['objects a hundred levels deep', `${'{"a":'.repeat(100)}1${'}'.repeat(100)}`, 400],
    ['more than eight megabytes', JSON.stringify({ id: 'x'.repeat(9 << 20) }), 413],
  ])('is refused: %s', async (_, payload, status) => {
    expect(problemIn(await text(payload)).status).toBe(status);
  });

  it('is refused: another type of content, and a bare form', async () => {
    expect(problemIn(await text('<a/>', 'application/xml')).status).toBe(415);
    expect(problemIn(await text('a=1', 'application/x-www-form-urlencoded')).status).toBe(415);
    expect(problemIn(await text('{}', 'text/plain')).status).toBe(400);
  });

  it('leaves no mark on the prototype of all objects, whatever cations are called', async () => {
    const cations = '{"Y": 1, "__proto__": 2, "constructor": 3}';
    const body = JSON.stringify(filmBody('F', null)).replace('"cations":null', `"cations":${cations}`);
    const seriesId = await newSeries();
    const payload = `{"id": "${newId()}", "changeId": "${newId()}", "seriesId": "${seriesId}", "body": ${body}}`;
    const refused = await opened.app.inject({
      method: 'POST',
      url: '/api/records/film',
      headers: { host: '127.0.0.1:4530', 'x-peritect': '1', 'content-type': 'application/json' },
      payload,
    });
    expect(problemIn(refused).status).toBeLessThan(500);
    expect(({} as Record<string, unknown>).Y).toBeUndefined();
    const composition = { cations: { Y: 1, constructor: 3, toString: 1, hasOwnProperty: 1 } };
    const ternary = await opened.ask('POST', '/api/computations/matter.ternary', { body: { composition } });
    expect(problemIn(ternary)).toMatchObject({ status: 422, code: 'REQUEST_INVALID' });
  });

  it('is refused: a route that is not there, or an address that is none', async () => {
    for (const [method, address] of [
      ['GET', '/api/nothing'],
      ['POST', '/api/series'],
      ['GET', '/../../etc/passwd'],
      ['PATCH', '/api/records/film/x'],
    ] as const)
      expect(problemIn(await opened.ask(method, address))).toMatchObject({
        status: 404,
        code: 'ROUTE_UNKNOWN',
      });
    expect(problemIn(await opened.ask('GET', '/api/series/%zz')).status).toBe(400);
    expect(
      problemIn(await opened.ask('GET', `/api/series/${'x'.repeat(5000)}`)).status,
    ).toBeGreaterThanOrEqual(400);
  });
});

describe('a series over HTTP', () => {
  it('is listed with its films, and is seen whole', async () => {
    const seriesId = await newSeries('listed');
    await made('film', seriesId, filmBody('F', null));
    const list = (await opened.ask('GET', '/api/series')).json();
    expect(list).toContainEqual({ id: seriesId, label: 'listed', isInvented: true, filmCount: 1 });
    const view = (await opened.ask('GET', `/api/series/${seriesId}`)).json();
    expect(view).toMatchObject({ series: { id: seriesId }, films: [{ body: { label: 'F' } }], verdicts: [] });
    expect(problemIn(await opened.ask('GET', `/api/series/${newId()}`)).status).toBe(404);
  });
});
