import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { CATALOGUE } from '../../src/computations/catalogue.ts';
import { clearStores } from '../logbook/opened-store.ts';
import { type OpenedApp, openedApp } from './opened-app.ts';

interface Operation {
  summary?: string;
  parameters?: { name: string; in: string; required?: boolean; schema?: object }[];
  requestBody?: { content: Record<string, { schema: object }> };
  responses: Record<string, { description: string; content?: Record<string, { schema: object }> }>;
}
interface Document {
  openapi: string;
  info: { title: string; version: string };
  paths: Record<string, Record<string, Operation>>;
}

const JSON_TYPES = ['null', 'boolean', 'object', 'array', 'number', 'integer', 'string'];

/** What is amiss in a JSON schema of 2020-12, the dialect of OpenAPI 3.1; `root` resolves references. */
function faultsOfSchema(schema: unknown, path: string, root: object, faults: string[]): void {
  if (typeof schema === 'boolean') return;
  if (schema === null || typeof schema !== 'object' || Array.isArray(schema)) {
    faults.push(`${path} is no schema`);
    return;
  }
  const held = schema as Record<string, unknown>;
  if ('nullable' in held) faults.push(`${path} says nullable, which 3.1 has no more`);
  for (const type of [held.type ?? []].flat()) {
    if (!JSON_TYPES.includes(type as string)) faults.push(`${path} has the type ${type}`);
  }
  if (typeof held.$ref === 'string') {
    const steps = held.$ref.split('/').slice(1);
    const found = steps.reduce<unknown>((inner, step) => (inner as Record<string, unknown>)?.[step], root);
    if (found === undefined) faults.push(`${path} refers to ${held.$ref}, which is not there`);
  }
  if (held.required !== undefined && !Array.isArray(held.required))
    faults.push(`${path}.required is no list`);
  for (const [name, inner] of Object.entries((held.properties ?? {}) as object))
    faultsOfSchema(inner, `${path}.${name}`, root, faults);
  for (const keyword of ['items', 'additionalProperties', 'propertyNames', 'not'])
    if (keyword in held) faultsOfSchema(held[keyword], `${path}.${keyword}`, root, faults);
  for (const keyword of ['anyOf', 'oneOf', 'allOf', 'prefixItems'])
    for (const [i, inner] of ((held[keyword] ?? []) as unknown[]).entries())
      faultsOfSchema(inner, `${path}.${keyword}[${i}]`, root, faults);
}

function faultsOfOperation(path: string, name: string, operation: Operation, document: Document): string[] {
  const faults: string[] = [];
  const where = `${name} ${path}`;
  if (!operation.summary) faults.push(`${where} has no summary`);
  const named = [...path.matchAll(/\{(\w+)\}/g)].map((match) => match[1]!);
  const parameters = operation.parameters ?? [];
  const inPath = parameters.filter((each) => each.in === 'path');
  if (
    named.sort().join() !==
    inPath
      .map((each) => each.name)
      .sort()
      .join()
  )
    faults.push(`${where} does not state its parameters`);
  if (inPath.some(({ required }) => required !== true))
    faults.push(`${where} has a path without its parameter`);
  for (const each of parameters) faultsOfSchema(each.schema, `${where} ${each.name}`, document, faults);
  for (const [type, { schema }] of Object.entries(operation.requestBody?.content ?? {}))
    faultsOfSchema(schema, `${where} body ${type}`, document, faults);
  if (Object.keys(operation.responses).length === 0) faults.push(`${where} has no response`);
  for (const [status, response] of Object.entries(operation.responses)) {
    if (!/^([1-5]\d\d|default)$/.test(status)) faults.push(`${where} answers ${status}`);
    if (!response.description) faults.push(`${where} does not describe its ${status}`);
    for (const { schema } of Object.values(response.content ?? {}))
      faultsOfSchema(schema, `${where} ${status}`, document, faults);
  }
  return faults;
}

describe('the OpenAPI document', () => {
  let opened: OpenedApp;
  let document: Document;
  beforeEach(async () => {
    opened = await openedApp();
    document = (await opened.ask('GET', '/api/openapi.json')).json();
  });
  afterEach(async () => {
    await opened.app.close();
    await clearStores();
  });

  it('is one of version 3.1, whose every operation states its parameters, its bodies and its answers', () => {
    expect(document.openapi).toMatch(/^3\.1\.\d$/);
    expect(document.info.title).toBe('Peritect');
    const faults = Object.entries(document.paths).flatMap(([path, operations]) =>
      Object.entries(operations).flatMap(([name, operation]) =>
        faultsOfOperation(path, name, operation, document),
      ),
    );
    expect(faults).toEqual([]);
  });

  it('lists every entry of the catalogue with its request and its response', () => {
    for (const { name, summary } of CATALOGUE) {
      const post = document.paths[`/api/computations/${name}`]?.post;
      expect(post?.summary, name).toBe(summary);
      expect(post?.requestBody?.content['application/json']?.schema, name).toBeTypeOf('object');
      expect(Object.keys(post!.responses), name).toEqual(['200', '202']);
    }
  });

  it('lists every route that the server answers', async () => {
    const listed = Object.entries(document.paths).flatMap(([path, operations]) =>
      Object.keys(operations).map((method) => `${method.toUpperCase()} ${path}`),
    );
    for (const route of [
      'GET /api/series',
      'GET /api/series/{seriesId}',
      'GET /api/series/{seriesId}/changes',
      'POST /api/series/{seriesId}/judge',
      'POST /api/series/{seriesId}/propose',
      'POST /api/changes/{id}/undo',
      'POST /api/records/{kind}',
      'GET /api/records/{kind}/{id}',
      'PUT /api/records/{kind}/{id}',
      'DELETE /api/records/{kind}/{id}',
      'GET /api/records/{kind}/{id}/revisions',
      'POST /api/files',
      'GET /api/files/{sha256}',
      'POST /api/imports/look',
      'POST /api/imports',
      'GET /api/measurements/{measurementId}',
      'POST /api/measurements/{measurementId}/reduce',
      'POST /api/tables/look',
      'POST /api/tables/import',
      'GET /api/jobs/{id}',
      'DELETE /api/jobs/{id}',
      'GET /api/jobs/{id}/events',
    ])
      expect(listed).toContain(route);
  });
});
