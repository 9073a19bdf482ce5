import { describe, expect, it } from 'vitest';
import { lineageColumns, lineageTree } from '../../../api/calc/production/lineage-tree.ts';
import { lineageScene } from '../../../reports/charts/lineage-scene.ts';

const step = (from: string, to: string, massKg: string | null = null) => ({ from, to, massKg });
const alphabetical = (key: string): number => key.charCodeAt(0);

describe('what came from what', () => {
  // Lot A is split into B and C, which are blended into D again.
  const steps = [step('A', 'B', '5'), step('A', 'C'), step('B', 'D'), step('C', 'D')];

  it('is told once each, both ways, with what went along', () => {
    const lines = (of: string, towards: 'from' | 'to') =>
      lineageTree(steps, { of, towards, order: alphabetical }).map(
        ({ key, depth, repeated }) => `${'-'.repeat(depth)}${key}${repeated ? ' again' : ''}`,
      );
    expect(lines('A', 'to')).toEqual(['B', '-D', 'C', '-D again']);
    expect(lines('D', 'from')).toEqual(['B', '-A', 'C', '-A again']);
    expect(lines('D', 'to')).toEqual([]);
    expect(lineageTree(steps, { of: 'A', towards: 'to', order: alphabetical })[0]?.massKg).toBe('5');
  });

  it('stands in columns in which everything is right of what it came from', () => {
    const columns = lineageColumns(['D', 'C', 'B', 'A'], [...steps, step('A', 'D')]);
    expect(Object.fromEntries(columns)).toEqual({ A: 0, B: 1, C: 1, D: 2 });
  });

  it('is drawn with 200 boxes apart from each other, and many days of one lot as one', () => {
    const lots = Array.from({ length: 40 }, (_, at) => `lot ${at}`);
    const days = lots
      .slice(0, 20)
      .flatMap((lot, at) => Array.from({ length: 8 }, (_, day) => ({ key: `day ${at} ${day}`, lot })));
    const node = (key: string, kind: 'day' | 'lot') => ({ key, kind, label: key, about: '' });
    const scene = lineageScene({
      title: 'Two hundred',
      of: 'lot 39',
      nodes: [...days.map(({ key }) => node(key, 'day')), ...lots.map((key) => node(key, 'lot'))],
      edges: [
        ...days.map(({ key, lot }) => ({ from: key, to: lot })),
        ...lots.slice(0, 39).map((key) => ({ from: key, to: 'lot 39' })),
      ],
    });
    const boxes = scene.marks.filter((mark) => mark.kind === 'rect' && mark.role === 'paper');
    // 20 lots with 8 days each drawn as one box, and 40 lots.
    expect(boxes).toHaveLength(60);
    const places = new Set(boxes.map((mark) => ('x' in mark && 'y' in mark ? `${mark.x} ${mark.y}` : '')));
    expect(places.size).toBe(60);
    for (const mark of boxes)
      if (mark.kind === 'rect') {
        expect(mark.x + mark.width).toBeLessThanOrEqual(scene.width);
        expect(mark.y + mark.height).toBeLessThanOrEqual(scene.height);
      }
    expect(scene.marks.some((mark) => mark.kind === 'text' && mark.text === '8 days')).toBe(true);
  });

  it('lets no line run behind a box that it does not end at', () => {
    const node = (key: string) => ({ key, kind: 'lot' as const, label: key, about: '' });
    const scene = lineageScene({
      title: 'Past B',
      of: 'C',
      nodes: ['A', 'B', 'C'].map(node),
      edges: [
        { from: 'A', to: 'B' },
        { from: 'B', to: 'C' },
        { from: 'A', to: 'C' },
      ],
    });
    const past = scene.marks.filter((mark) => mark.kind === 'line');
    expect(past).toHaveLength(1);
    const boxes = scene.marks.filter((mark) => mark.kind === 'rect' && mark.role === 'paper');
    for (const line of past)
      for (const box of boxes)
        if (line.kind === 'line' && box.kind === 'rect' && box.x === line.x1)
          expect(line.y1 < box.y || line.y1 > box.y + box.height).toBe(true);
  });

  it('says where there is nothing to draw', () => {
    const scene = lineageScene({ title: 'None', of: 'A', nodes: [], edges: [] });
    expect(scene.description).toContain('Nothing is known');
  });
});
