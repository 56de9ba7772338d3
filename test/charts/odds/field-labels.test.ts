import { describe, expect, it } from 'vitest';
import { fieldLabels, shortFieldName } from '../../../src/charts/odds/field-labels.ts';

describe('fieldLabels', () => {
  // a 9 x 9 square of nodes: field 1 is the inner 5 x 5, field 2 a single node
  const nodes = Array.from({ length: 81 }, (_, i) => ({ x: i % 9, y: Math.floor(i / 9) }));
  const field = nodes.map(({ x, y }) => (x === 8 && y === 8 ? 2 : x > 1 && x < 7 && y > 1 && y < 7 ? 1 : 0));
  const at = { x: nodes.map(({ x }) => x), y: nodes.map(({ y }) => y) };

  it('stands at the node farthest from every other field', () => {
    const labels = fieldLabels(at.x, at.y, field, ['rim', 'middle', 'dot'], 1);
    const middle = labels.find(({ field: name }) => name === 'middle')!;
    expect(nodes[middle.node]).toEqual({ x: 4, y: 4 });
    expect(labels.map(({ field: name }) => name)).toEqual(['rim', 'middle', 'dot']); // largest first
  });

  it('leaves out fields of too few nodes', () => {
    expect(fieldLabels(at.x, at.y, field, ['rim', 'middle', 'dot'], 2)).toHaveLength(2);
  });
});

describe('shortFieldName', () => {
  it('says the trade’s numbers for the compounds that have one, whatever the rare earth', () => {
    expect(shortFieldName('Dy2BaCuO5 + YBa2Cu3O7 + liquid')).toBe('211 + 123 + liquid');
    expect(shortFieldName('SmBa3Cu2O6.5 + YBa2Cu4O8')).toBe('132 + 124');
    expect(shortFieldName('BaCuO2 + Cu2O')).toBe('BaCuO2 + Cu2O');
  });
});
