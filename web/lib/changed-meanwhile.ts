/** A field of a form, before and after somebody else changed the record, and as it was typed here; as JSON. */
export interface MeanwhileField {
  pointer: string;
  was: string;
  theirs: string;
  typed: string;
  /** As it stands in the form now. */
  mine: string;
}

type Leaves = Map<string, unknown>;

/** The values of a form by their pointers; a list counts as one, because its rows come and go. */
function leavesOf(value: unknown, pointer = '', leaves: Leaves = new Map()): Leaves {
  if (value === null || typeof value !== 'object' || Array.isArray(value)) leaves.set(pointer, value);
  else for (const [name, inner] of Object.entries(value)) leavesOf(inner, `${pointer}/${name}`, leaves);
  return leaves;
}

/** What others changed of a record, beside what was typed here. */
export function changedMeanwhile(started: unknown, now: unknown, typed: unknown): MeanwhileField[] {
  const [before, theirs, mine] = [leavesOf(started), leavesOf(now), leavesOf(typed)];
  return [...theirs.keys()].flatMap((pointer) => {
    const [was, their, own] = [before, theirs, mine].map((leaves) =>
      JSON.stringify(leaves.get(pointer) ?? ''),
    );
    if (was === undefined || their === undefined || own === undefined || was === their) return [];
    return [{ pointer, was, theirs: their, typed: own, mine: own }];
  });
}

/** The value at a pointer, as JSON. */
export function leafAt(value: unknown, pointer: string): string {
  return JSON.stringify(leavesOf(value).get(pointer) ?? '');
}

/** A form with the value at a pointer replaced. */
export function withLeaf<Value>(value: Value, pointer: string, json: string): Value {
  const replace = (inner: unknown, path: readonly string[]): unknown => {
    const [name, ...rest] = path;
    if (name === undefined) return JSON.parse(json);
    return { ...(inner as object), [name]: replace((inner as Record<string, unknown>)[name], rest) };
  };
  return replace(value, pointer.split('/').slice(1)) as Value;
}

/** A field's name in words: `/wetMassKg` as `Wet mass`. */
export function fieldWords(pointer: string): string {
  const words = pointer
    .split('/')
    .slice(1)
    .map((name) =>
      name
        .replaceAll(/(?<=[a-z0-9])(?=[A-Z])/g, ' ')
        .toLowerCase()
        .replace(/(?<=.) (frac|kg|g|mg|gpt|ozt|ml|id)$/, ''),
    )
    .join(', ');
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}

/** A value of a form as it is shown; `nameOf` knows what a choice is called. */
export function valueWords(json: string, nameOf: (value: string) => string | null): string {
  const value: unknown = JSON.parse(json);
  const words = (one: unknown): string => {
    if (one === null || one === '') return 'nothing';
    if (typeof one === 'boolean') return one ? 'yes' : 'no';
    if (typeof one === 'string') return nameOf(one) ?? one;
    if (Array.isArray(one)) return one.length === 0 ? 'none' : one.map(words).join('; ');
    if (typeof one === 'object')
      return Object.values(one)
        .filter((inner) => inner !== '' && inner !== null)
        .map(words)
        .join(' ');
    return JSON.stringify(one);
  };
  return words(value);
}
