import fc from 'fast-check';
import { hostileValue } from './hostile.ts';

type Path = (string | number)[];

/** Every place in a JSON value, the root apart. */
function placesIn(value: unknown, above: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => {
    const path = [...above, Array.isArray(value) ? Number(key) : key];
    return [path, ...placesIn(inner, path)];
  });
}

interface Change {
  kind: 'replace' | 'remove' | 'add' | 'double' | 'to-text';
  at: number;
  value: unknown;
}

const change: fc.Arbitrary<Change> = fc.record({
  kind: fc.constantFrom('replace', 'replace', 'replace', 'remove', 'add', 'double', 'to-text'),
  at: fc.nat({ max: 100_000 }),
  value: hostileValue,
});

function applied(whole: unknown, { kind, at, value }: Change): unknown {
  const places = placesIn(whole);
  const path = places[at % Math.max(1, places.length)];
  if (path === undefined) return value;
  const copy = structuredClone(whole);
  const holder = path
    .slice(0, -1)
    .reduce<unknown>((inner, key) => (inner as Record<string | number, unknown>)[key], copy) as Record<
    string | number,
    unknown
  >;
  const key = path.at(-1) ?? '';
  const before = holder[key];
  if (kind === 'remove') {
    if (Array.isArray(holder)) holder.splice(Number(key), 1);
    else delete holder[key];
  } else if (kind === 'add') holder[Array.isArray(holder) ? holder.length : `${key}Extra`] = value;
  else if (kind === 'double') holder[key] = Array.isArray(before) ? [...before, ...before] : [before, before];
  else if (kind === 'to-text') holder[key] = typeof before === 'string' ? Number(before) : String(before);
  else holder[key] = value;
  return copy;
}

/** The same value with one to three places of it spoilt. */
export function spoilt(sound: fc.Arbitrary<unknown>): fc.Arbitrary<unknown> {
  return fc
    .tuple(sound, fc.array(change, { minLength: 1, maxLength: 3, size: 'small' }))
    .map(([whole, changes]) => changes.reduce(applied, whole));
}
