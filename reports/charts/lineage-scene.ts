import { lineageColumns } from '../../api/calc/production/lineage-tree.ts';
import type { Mark, Role, Scene } from './scene.ts';
import { emptyScene, finishScene, fitText, sceneMargin } from './scene-tools.ts';

export interface DrawnNode {
  key: string;
  kind: 'day' | 'lot' | 'batch' | 'product' | 'shipment' | 'statement';
  label: string;
  /** Second line: date, mass. */
  about: string;
}

export interface DrawnEdge {
  from: string;
  to: string;
}

const box = { width: 104, height: 30 };
const gap = { across: 40, down: 8 };
const sizePt = 9;
const smallPt = 7.5;
/** So many days that went into one thing are drawn as one box. */
const MOST_DAYS_APART = 5;

const roles: Record<DrawnNode['kind'], Role> = {
  day: 'muted',
  lot: 'ink',
  batch: 'best',
  product: 'gold',
  shipment: 'range',
  statement: 'silver',
};

/** Days that went into the same and nothing else are put together where they are many. */
function withDaysTogether(nodes: readonly DrawnNode[], edges: readonly DrawnEdge[], of: string) {
  const goals = new Map<string, string[]>();
  for (const { from, to } of edges) goals.set(from, [...(goals.get(from) ?? []), to]);
  const groups = new Map<string, DrawnNode[]>();
  for (const node of nodes) {
    const to = goals.get(node.key) ?? [];
    if (node.kind !== 'day' || node.key === of || to.length !== 1) continue;
    const goal = to[0] ?? '';
    groups.set(goal, [...(groups.get(goal) ?? []), node]);
  }
  const together = new Map<string, DrawnNode>();
  for (const [goal, days] of groups) {
    if (days.length <= MOST_DAYS_APART) continue;
    const drawn: DrawnNode = {
      key: `days ${goal}`,
      kind: 'day',
      label: `${days.length} days`,
      about: `${days[0]?.label ?? ''} to ${days.at(-1)?.label ?? ''}`,
    };
    for (const day of days) together.set(day.key, drawn);
  }
  const keyOf = (key: string): string => together.get(key)?.key ?? key;
  const drawnNodes = new Map(nodes.map((node) => [keyOf(node.key), together.get(node.key) ?? node] as const));
  const drawnEdges = new Map(
    edges.map(({ from, to }) => [`${keyOf(from)} ${keyOf(to)}`, { from: keyOf(from), to: keyOf(to) }]),
  );
  return { nodes: [...drawnNodes.values()], edges: [...drawnEdges.values()] };
}

/** The mean place of what a box comes from or goes to, so that lines cross little. */
function placed(columns: string[][], edges: readonly DrawnEdge[]): string[][] {
  let ordered = columns;
  for (const towards of ['from', 'to', 'from', 'to'] as const) {
    const place = new Map(ordered.flatMap((keys) => keys.map((key, at) => [key, at / keys.length] as const)));
    const here = towards === 'from' ? 'to' : 'from';
    const mean = (key: string): number => {
      const others = edges.filter((edge) => edge[here] === key).map((edge) => place.get(edge[towards]) ?? 0);
      return others.length === 0
        ? (place.get(key) ?? 0)
        : others.reduce((sum, one) => sum + one, 0) / others.length;
    };
    ordered = ordered.map((keys) => {
      const means = new Map(keys.map((key) => [key, mean(key)]));
      return keys.toSorted((a, b) => (means.get(a) ?? 0) - (means.get(b) ?? 0));
    });
  }
  return ordered;
}

/** A line over several columns goes through a free place in each of them, so that it runs behind no box. */
function withBends(edges: readonly DrawnEdge[], columnOf: Map<string, number>) {
  const bends: { key: string; column: number }[] = [];
  const pieces = edges.flatMap(({ from, to }, at): DrawnEdge[] => {
    const [first, last] = [columnOf.get(from) ?? 0, columnOf.get(to) ?? 0];
    const through = Array.from({ length: Math.max(0, last - first - 1) }, (_, step) => {
      const key = `bend ${at} ${step}`;
      bends.push({ key, column: first + 1 + step });
      return key;
    });
    const stops = [from, ...through, to];
    return stops.slice(1).map((stop, step) => ({ from: stops[step] ?? from, to: stop }));
  });
  return { bends, pieces };
}

/** What came from what, from left to right: days, lots, batches, products, shipments and statements as boxes with lines between. */
export function lineageScene(input: {
  title: string;
  of: string;
  nodes: readonly DrawnNode[];
  edges: readonly DrawnEdge[];
}): Scene {
  const { title, of } = input;
  if (input.edges.length === 0)
    return emptyScene(title, 300, 'Nothing is known of where it came from or what became of it.');
  const { nodes, edges } = withDaysTogether(input.nodes, input.edges, of);
  const columnOf = lineageColumns(
    nodes.map(({ key }) => key),
    edges.map((edge) => ({ ...edge, massKg: null })),
  );
  const count = Math.max(...columnOf.values()) + 1;
  const { bends, pieces } = withBends(edges, columnOf);
  const columns = placed(
    Array.from({ length: count }, (_, at) => [
      ...nodes.map(({ key }) => key).filter((key) => columnOf.get(key) === at),
      ...bends.filter(({ column }) => column === at).map(({ key }) => key),
    ]),
    pieces,
  );
  const tallest = Math.max(...columns.map((keys) => keys.length));
  const height = tallest * (box.height + gap.down) - gap.down + 2 * sceneMargin;
  const at = new Map<string, { x: number; y: number }>();
  columns.forEach((keys, column) => {
    const free = height - 2 * sceneMargin - (keys.length * (box.height + gap.down) - gap.down);
    keys.forEach((key, place) =>
      at.set(key, {
        x: sceneMargin + column * (box.width + gap.across),
        y: sceneMargin + free / 2 + place * (box.height + gap.down),
      }),
    );
  });
  const isBend = new Set(bends.map(({ key }) => key));
  const lines = pieces.flatMap(({ from, to }): Mark[] => {
    const [start, end] = [at.get(from), at.get(to)];
    if (start === undefined || end === undefined) return [];
    const [x1, y1] = [start.x + box.width, start.y + box.height / 2];
    const [x2, y2] = [end.x, end.y + box.height / 2];
    const middle = (gap.across / 2).toFixed(1);
    const d = `M${x1.toFixed(1)},${y1.toFixed(1)}C${(x1 + Number(middle)).toFixed(1)},${y1.toFixed(1)} ${(x2 - Number(middle)).toFixed(1)},${y2.toFixed(1)} ${x2.toFixed(1)},${y2.toFixed(1)}`;
    const line: Mark = { kind: 'path', d, role: 'muted', width: 1, filled: false };
    if (!isBend.has(to)) return [line];
    return [line, { kind: 'line', x1: x2, y1: y2, x2: x2 + box.width, y2, role: 'muted', width: 1 }];
  });
  const boxes = nodes.flatMap((node): Mark[] => {
    const place = at.get(node.key);
    if (place === undefined) return [];
    const { x, y } = place;
    const isStart = node.key === of;
    return [
      { kind: 'rect', x, y, ...box, role: 'paper', filled: true },
      { kind: 'rect', x, y, ...box, role: isStart ? 'ink' : 'muted', filled: false },
      { kind: 'rect', x, y, width: 4, height: box.height, role: roles[node.kind], filled: true },
      {
        kind: 'text',
        x: x + 9,
        y: y + 12.5,
        text: fitText(node.label, box.width - 13, sizePt, isStart),
        sizePt,
        role: 'ink',
        anchor: 'start',
        bold: isStart,
      },
      {
        kind: 'text',
        x: x + 9,
        y: y + 24,
        text: fitText(node.about, box.width - 13, smallPt),
        sizePt: smallPt,
        role: 'muted',
        anchor: 'start',
      },
    ];
  });
  return finishScene({
    width: count * (box.width + gap.across) - gap.across + 2 * sceneMargin,
    height,
    title,
    description: `${nodes.length} boxes in ${count} columns, from what was there first on the left to what came of it on the right. The lists beside it say the same in words.`,
    marks: [...lines, ...boxes],
  });
}
