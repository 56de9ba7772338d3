import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { request as httpRequest, type IncomingHttpHeaders } from 'node:http';
import type { AddressInfo } from 'node:net';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { newId } from '../../src/logbook/ids.ts';
import { buildApp } from '../../src/server/app.ts';
import { benchHere } from '../jobs/bench.ts';
import { seriesBody } from '../logbook/bodies.ts';
import { clearStores } from '../logbook/opened-store.ts';

let app: FastifyInstance;
let port = 0;
let pages: string;
beforeAll(async () => {
  pages = mkdtempSync(join(tmpdir(), 'peritect-pages-'));
  mkdirSync(join(pages, 'assets'));
  writeFileSync(join(pages, 'assets', 'page.js'), '1');
  writeFileSync(join(pages, 'icon.svg'), '<svg xmlns="http://www.w3.org/2000/svg"/>');
  writeFileSync(join(pages, 'index.html'), '<!doctype html><style nonce="%STYLE_NONCE%"></style>');
  app = await buildApp({
    bench: await benchHere(),
    clock: () => new Date(),
    pagesFolder: pages,
    port: () => port,
  });
  await app.listen({ host: '127.0.0.1', port: 0 });
  port = (app.server.address() as AddressInfo).port;
});
afterAll(async () => {
  await app.close();
  await clearStores();
  rmSync(pages, { recursive: true });
});

interface Answer {
  status: number;
  headers: IncomingHttpHeaders;
  text: string;
}

/** Through a real socket, with whatever headers. */
function asked(
  method: string,
  path: string,
  headers: Record<string, string> = {},
  body = '',
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const own = { host: `127.0.0.1:${port}`, ...headers };
    const request = httpRequest({ port, method, path, headers: own, setHost: false }, (answer) => {
      let text = '';
      answer.setEncoding('utf8').on('data', (piece: string) => {
        text += piece;
      });
      answer.on('end', () => resolve({ status: answer.statusCode!, headers: answer.headers, text }));
    });
    request.on('error', reject);
    request.end(body);
  });
}

const codeOf = ({ status, text }: Answer): [number, string] => [
  status,
  (JSON.parse(text) as { code: string }).code,
];

describe('a request by another name', () => {
  it.each([
    ['a foreign host', () => `evil.example:${port}`],
    ['a foreign host without a port', () => 'evil.example'],
    ['our host without its port', () => '127.0.0.1'],
    ['our host with another port', () => `127.0.0.1:${port + 1}`],
    ['our host with a name before it', () => `127.0.0.1:${port}@evil.example`],
    ['a host that only begins like ours', () => `127.0.0.1:${port}.evil.example`],
    ['any address', () => `0.0.0.0:${port}`],
    ['nothing', () => ''],
  ])('is refused: %s', async (_, host) => {
    expect(codeOf(await asked('GET', '/api/series', { host: host() }))).toEqual([403, 'HOST_REFUSED']);
    const page = await asked('GET', '/', { host: host() });
    expect(page.status).toBe(403);
    expect(page.text).not.toContain('<style');
  });

  it.each(['127.0.0.1', 'localhost', '[::1]'])('is served as %s with the port', async (name) => {
    expect((await asked('GET', '/api/series', { host: `${name}:${port}` })).status).toBe(200);
  });

  it.each(['http://evil.example', 'null', 'https://127.0.0.1', 'http://127.0.0.1'])(
    'from a page of %s is refused, to read and to write',
    async (origin) => {
      expect(codeOf(await asked('GET', '/api/series', { origin }))).toEqual([403, 'ORIGIN_REFUSED']);
      const write = await asked('POST', '/api/records/series', { origin, 'x-peritect': '1' }, '{}');
      expect(codeOf(write)).toEqual([403, 'ORIGIN_REFUSED']);
    },
  );

  it('from its own page is served', async () => {
    expect((await asked('GET', '/api/series', { origin: `http://127.0.0.1:${port}` })).status).toBe(200);
  });

  it('that would change something without the header that no foreign page can set is refused, and changes nothing', async () => {
    const body = JSON.stringify({ id: newId(), changeId: newId(), seriesId: null, body: seriesBody() });
    const wrong: Record<string, string>[] = [{}, { 'x-peritect': '0' }, { 'x-peritect': '' }];
    for (const headers of wrong) {
      const answer = await asked(
        'POST',
        '/api/records/series',
        { 'content-type': 'application/json', ...headers },
        body,
      );
      expect(codeOf(answer)).toEqual([403, 'CHANGE_HEADER_MISSING']);
    }
    for (const [method, path] of [
      ['PUT', `/api/records/series/${newId()}`],
      ['DELETE', `/api/records/series/${newId()}`],
      ['POST', '/api/files'],
    ] as const)
      expect(codeOf(await asked(method, path))).toEqual([403, 'CHANGE_HEADER_MISSING']);
    expect(JSON.parse((await asked('GET', '/api/series')).text)).toEqual([]);
  });

  it('allows no other origin anything', async () => {
    const preflight = await asked('OPTIONS', '/api/series', {
      origin: 'http://evil.example',
      'access-control-request-method': 'POST',
      'access-control-request-headers': 'x-peritect',
    });
    expect(preflight.status).toBeGreaterThanOrEqual(400);
    expect(Object.keys(preflight.headers).filter((name) => name.startsWith('access-control'))).toEqual([]);
  });
});

describe('an answer', () => {
  it('tells the browser to load and run nothing but what is its own, with a nonce of its own', async () => {
    const [one, other] = [await asked('GET', '/'), await asked('GET', '/series/anything')];
    for (const { status, headers } of [one, other]) {
      expect(status).toBe(200);
      const policy = headers['content-security-policy'] as string;
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("frame-ancestors 'none'");
      expect(policy).toContain("base-uri 'none'");
      expect(policy).not.toMatch(/unsafe-|\*|http:|https:/);
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['referrer-policy']).toBe('no-referrer');
      expect(headers['cross-origin-resource-policy']).toBe('same-origin');
      expect(headers['cross-origin-opener-policy']).toBe('same-origin');
      expect(headers['cache-control']).toBe('no-store');
    }
    const nonceIn = ({ text }: Answer) => /nonce="([0-9a-f]{16,})"/.exec(text)![1]!;
    expect(nonceIn(one)).not.toBe(nonceIn(other));
    expect(one.headers['content-security-policy']).toContain(`'nonce-${nonceIn(one)}'`);
  });

  it('carries the same care where it is a refusal or data', async () => {
    for (const path of ['/api/series', '/api/nothing', '/assets/page.js', '/assets/none.js']) {
      const { headers } = await asked('GET', path);
      expect(headers['content-security-policy'], path).toContain("default-src 'none'");
      expect(headers['x-content-type-options'], path).toBe('nosniff');
    }
  });

  it('gives no file outside the pages away', async () => {
    for (const path of [
      '/assets/../index.html',
      '/assets/..%2findex.html',
      '/assets/%2e%2e/%2e%2e/package.json',
    ]) {
      const { text, status } = await asked('GET', path);
      expect(text.includes('"dependencies"')).toBe(false);
      if (path.includes('%2')) expect(status).toBeGreaterThanOrEqual(400);
    }
  });
});

describe('a connection', () => {
  it('that says no HTTP is closed, and the server stays up', async () => {
    const said = await new Promise<string>((resolve, reject) => {
      let text = '';
      const socket = connect(port, '127.0.0.1', () => socket.write('\u0016\u0003\u0001 nonsense\r\n\r\n'));
      socket.on('data', (piece) => {
        text += piece.toString('latin1');
      });
      socket.on('close', () => resolve(text));
      socket.on('error', reject);
    });
    expect(said).toMatch(/^(HTTP\/1\.1 400|$)/);
    expect((await asked('GET', '/api/series')).status).toBe(200);
  });
});
