import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { JsonFault, parseJson } from '../../../src/formats/peritect-json/parse.ts';
import { documentReader } from '../../../src/formats/peritect-json/read.ts';
import type { JsonValue } from '../../../src/formats/peritect-json/schema.ts';
import { writeDocument } from '../../../src/formats/peritect-json/write.ts';

function read(text: string | Uint8Array, piece = 3) {
  const bytes = typeof text === 'string' ? new TextEncoder().encode(text) : text;
  const reader = documentReader.open();
  for (let at = 0; at < bytes.length; at += piece) reader.push(bytes.subarray(at, at + piece));
  return reader.end();
}
const HEAD = '"format":"peritect","version":1,"kind":"series"';

describe('Peritect documents', () => {
  it('come back as they were written, whatever they hold', () => {
    const content = fc.dictionary(fc.string({ minLength: 5 }), fc.jsonValue({ maxDepth: 5 }));
    fc.assert(
      fc.property(content, (held) => {
        const document = { kind: 'series', content: held as Record<string, JsonValue> };
        const written = writeDocument(document);
        if (!written.ok) {
          expect(['format', 'version', 'kind'].some((key) => Object.hasOwn(held, key))).toBe(true);
          return;
        }
        const back = read(written.text, 1 + (written.text.length % 50));
        expect(back).toMatchObject({ ok: true });
        // -0 is 0 in JSON
        expect(JSON.stringify(back.ok && back.value.content)).toBe(JSON.stringify(contentOf(written.text)));
      }),
      { numRuns: 200, seed: 5 },
    );
  });

  it('are the same bytes whatever the order of the keys', () => {
    const one = writeDocument({ kind: 'series', content: { b: 1, a: [1e21, 0.1] } });
    const other = writeDocument({ kind: 'series', content: { a: [1e21, 0.1], b: 1 } });
    expect(one).toEqual(other);
    expect(one).toMatchObject({
      text: '{"a":[1e+21,0.1],"b":1,"format":"peritect","kind":"series","version":1}\n',
    });
  });

  it('are not written with NaN or with a key of the head', () => {
    expect(writeDocument({ kind: 'series', content: { a: Number.NaN } })).toMatchObject({
      code: 'WRITE_JSON',
    });
    expect(writeDocument({ kind: 'series', content: { version: 7 } })).toMatchObject({ code: 'WRITE_JSON' });
  });

  it.each([
    ['', 'READ_EMPTY', 0, 0],
    [`{${HEAD},\n"a": [1, 2,]}`, 'READ_JSON', 2, 12],
    [`{${HEAD}`, 'READ_JSON', 1, 49],
    [`{${HEAD},"a":1,"a":2}`, 'READ_JSON', 1, 56],
    [`{${HEAD},"a":1e999}`, 'READ_JSON', 1, 54],
    [`{${HEAD},"a":01}`, 'READ_JSON', 1, 55],
    [`{${HEAD},"a":"\\x"}`, 'READ_JSON', 1, 55],
    [`{${HEAD},"a":${'['.repeat(100)}${']'.repeat(100)}}`, 'READ_JSON_DEPTH', 1, 118],
    ['[1]', 'READ_JSON_FORMAT', 1, 1],
    ['{"format":"other","version":1,"kind":"x"}', 'READ_JSON_FORMAT', 1, 1],
    ['{"format":"peritect","version":2,"kind":"x"}', 'READ_JSON_VERSION', 1, 1],
    ['{"format":"peritect","version":1.5,"kind":"x"}', 'READ_JSON_FORMAT', 1, 1],
  ])('refuse %j with %s at line %d, column %d', (text, code, line, column) => {
    expect(read(text)).toMatchObject({ ok: false, code, line, column });
  });

  it('refuse bytes that are no UTF-8', () => {
    expect(read(new Uint8Array([123, 0xff, 125]))).toMatchObject({ code: 'READ_JSON' });
  });
});

/** The content of a written document by the language's own parser. */
function contentOf(text: string): unknown {
  const { format, version, kind, ...content } = JSON.parse(text) as Record<string, unknown>;
  expect([format, version, kind]).toEqual(['peritect', 1, 'series']);
  return content;
}

describe('parseJson beside the parser of the language', () => {
  it('accepts and refuses the same damaged texts, but for keys given twice and numbers beyond doubles', () => {
    const seed = JSON.stringify({ a: [1, -2.5e-3, true, null, 'x"\\\u00e9'], b: { c: {}, d: [] } });
    const change = fc.tuple(
      fc.nat(seed.length - 1),
      fc.constantFrom('', ',', '"', '{', ']', '0', 'e', '\\', ' ', '-'),
    );
    fc.assert(
      fc.property(fc.array(change, { maxLength: 3 }), (changes) => {
        let text = seed;
        for (const [at, put] of changes) text = text.slice(0, at) + put + text.slice(at + 1);
        const ours = parseJson(text, 64, 1000);
        let theirs: unknown;
        try {
          theirs = JSON.parse(text);
        } catch {
          expect(ours).toBeInstanceOf(JsonFault);
          return;
        }
        if (ours instanceof JsonFault) expect(ours.expected).toMatch(/each key once|range of doubles/);
        else expect(ours).toEqual(theirs);
      }),
      { numRuns: 3000, seed: 9 },
    );
  });
});
