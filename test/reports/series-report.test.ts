import { describe, expect, it } from 'vitest';
import { seriesReport } from '../../src/reports/series-report.ts';
import { sourcesBehind } from '../../src/reports/sources.ts';
import { HOSTILE, hostileSeries } from './hostile-series.ts';

const files = seriesReport(hostileSeries(true));
const page = files[0]!.text;

describe('the report of a series', () => {
  it('is one document that runs nothing and fetches nothing, whatever the records say', () => {
    expect(files[0]!.path).toBe('report.html');
    const tags = page.match(/<[^>]*>/g)!;
    expect(tags.length).toBeGreaterThan(200);
    for (const tag of tags) {
      expect(tag).not.toMatch(
        /^<(script|link|img|iframe|object|embed|base|form|a)\b|\s(src|href|on\w+)=|https?:/i,
      );
    }
    expect(page).not.toMatch(/@import|url\((?!#)/);
    expect(page.match(/<\/style>/g)).toHaveLength(1);
    expect(page.match(/<svg/g)!.length).toBe(page.match(/<\/svg>/g)!.length);
  });

  it('shows the hostile text itself, escaped, wherever it stands', () => {
    const escaped = '&lt;script src=&quot;https://evil.example/x.js&quot;&gt;alert(1)&lt;/script&gt;';
    expect(page.split(escaped).length).toBeGreaterThan(20);
    expect(page).not.toContain(HOSTILE);
  });

  it('puts every file under its own folder, with a name of plain letters, each once', () => {
    for (const { path } of files.slice(3))
      expect(path).toMatch(/^figures\/[A-Za-z0-9][A-Za-z0-9.-]*\.(svg|csv)$/);
    expect(new Set(files.map(({ path }) => path.toLowerCase())).size).toBe(files.length);
  });

  it('says on top that an invented series is invented, and says so of no other', () => {
    expect(page.indexOf('INVENTED DATA')).toBeLessThan(page.indexOf('<h1>'));
    expect(page).toContain('INVENTED DATA');
    expect(seriesReport(hostileSeries(false))[0]!.text).not.toContain('INVENTED');
  });

  it('is the same each time for the same records', () => {
    expect(seriesReport(hostileSeries(true))).toEqual(files);
  });

  it('marks what is old, and calls no odds certain', () => {
    expect(page).toMatch(/Verdict: falls short \(old/);
    expect(page).toContain('<strong>Old:</strong>');
    expect(page).toContain('old, the science, the film or the piece has changed since');
    expect(page).toContain('&lt; 0.01');
  });

  it('draws the curve with the drawn lines named, though nothing was reduced', () => {
    expect(page).toMatch(/resistance \(Ω\)/);
  });

  it('keeps every fact with its uncertainty, unit and file in facts.csv', () => {
    const csv = files.find(({ path }) => path === 'facts.csv')!.text;
    const [head, ...lines] = csv.trimEnd().split('\r\n');
    expect(head).toMatch(/^film,piece,state,fact,value,standard uncertainty,unit/);
    expect(lines.some((line) => line.includes('tcMidpointK,90.5,0.1,K'))).toBe(true);
    expect(lines.some((line) => line.endsWith('a'.repeat(64)))).toBe(true);
  });

  it('quotes labels in films.csv, so that a comma or a quotation mark in one moves no column', () => {
    const csv = files.find(({ path }) => path === 'films.csv')!.text;
    expect(csv).toContain('""\'&../../x');
    expect(csv.trimEnd().split('\r\n')).toHaveLength(2);
  });
});

describe('the sources of a report', () => {
  it('name every table behind an entry, and say which rows stand from memory', () => {
    const rows = sourcesBehind(new Set(['diffraction.scan']));
    expect(new Set(rows.map(({ table }) => table))).toEqual(new Set(['diffraction-cells', 'xray-lines']));
    expect(rows.some(({ isFromMemory }) => isFromMemory)).toBe(true);
    for (const { tag, isFromMemory } of rows) expect(isFromMemory).toBe(tag.includes('memory'));
  });

  it('are none for an entry that rests on no table', () => {
    expect(sourcesBehind(new Set(['learning.verdict']))).toEqual([]);
  });
});
