import fc from 'fast-check';
import * as hostile from './hostile.ts';
import { spoilt } from './mutate.ts';
import type { JsonSchema, Operation, Parameter } from './operations.ts';
import type { Sound } from './sound-requests.ts';
import { valueFor, type Pool } from './values.ts';

export interface FuzzRequest {
  operation: string;
  kind: 'sound' | 'spoilt' | 'hostile';
  method: string;
  address: string;
  headers: Record<string, string>;
  body: string | Uint8Array | null;
  as: 'owner' | 'nobody';
}

/** What is known of one state of the books, to ask about it. */
export interface Known extends Pool {
  /** Bodies like those that were once accepted, by operation. */
  examples: ReadonlyMap<string, readonly unknown[]>;
  files: readonly string[];
}

export const nameOf = ({ method, path }: Operation): string => `${method} ${path}`;

/** `/api/lots/{id}` → what its id is of. */
function fieldOf(path: string, name: string): string {
  if (name !== 'id') return name;
  const before =
    path
      .slice(0, path.indexOf(`{${name}}`))
      .split('/')
      .filter(Boolean)
      .at(-1) ?? '';
  const camel = before.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase());
  const irregular: Record<string, string> = {
    batches: 'batch',
    supplies: 'supply',
    supplyStock: 'supply',
    counterparties: 'counterparty',
    days: 'productionDay',
    budgets: 'season',
    terms: 'terms',
    proofs: 'cupellationProof',
    sessions: 'accountSession',
  };
  return `${irregular[camel] ?? camel.replace(/s$/, '')}Id`;
}

const encoded = (text: string): string => {
  try {
    return encodeURIComponent(text);
  } catch {
    return '%ED%A0%80'; // a lone surrogate, which UTF-8 has no form for
  }
};

function pathFor(operation: Operation, known: Known, isHostile: boolean): fc.Arbitrary<string> {
  const names = [...operation.path.matchAll(/\{(\w+)\}/g)].map(([, name = '']) => name);
  const segments = names.map((name) => {
    const schema = operation.parameters.find((one) => one.in === 'path' && one.name === name)?.schema ?? {};
    const sound = valueFor(schema, fieldOf(operation.path, name), known).map((value) =>
      encoded(String(value)),
    );
    return isHostile
      ? fc.oneof(
          sound,
          fc.constantFrom(...hostile.HOSTILE_SEGMENTS),
          fc.constantFrom(...hostile.HOSTILE_TEXTS.slice(0, 40)).map(encoded),
        )
      : sound;
  });
  return fc
    .tuple(...segments)
    .map((given) =>
      names.reduce((path, name, at) => path.replace(`{${name}}`, () => given[at] ?? ''), operation.path),
    );
}

function queryFor(parameters: Parameter[], known: Known, isHostile: boolean): fc.Arbitrary<string> {
  const asked = parameters.filter((one) => one.in === 'query');
  const pairs = asked.map(({ name, schema, required = false }) => {
    const sound = valueFor(schema, name, known).map((value) => `${name}=${encoded(String(value))}`);
    const bad = fc.oneof(
      fc.constantFrom(...hostile.HOSTILE_TEXTS.slice(0, -1)).map((text) => `${name}=${encoded(text)}`),
      fc.constantFrom(
        `${name}`,
        `${name}=%`,
        `${name}=%ff`,
        `${name}[]=1`,
        `${name}=1&${name}=2`,
        `${name}[a]=1`,
      ),
    );
    const given = isHostile ? fc.oneof(sound, bad) : sound;
    return required && !isHostile ? given : fc.option(given, { nil: '' });
  });
  const junk = isHostile
    ? fc.constantFrom('', '', '', 'junk=1', '__proto__[a]=1', '%', '&&&=', 'a'.repeat(6000))
    : fc.constant('');
  return fc.tuple(junk, ...pairs).map((all) => {
    const query = all.filter((one) => one !== '').join('&');
    return query === '' ? '' : `?${query}`;
  });
}

/** Like the example, but as a record of its own. */
function withNewName(example: unknown, number: number): unknown {
  if (typeof example !== 'object' || example === null) return example;
  return Object.fromEntries(
    Object.entries(example).map(([name, value]) => [
      name,
      ['code', 'name', 'sample'].includes(name) ? `F-${number}` : (value as unknown),
    ]),
  );
}

function soundBody(schema: JsonSchema, operation: Operation, known: Known): fc.Arbitrary<unknown> {
  const examples = known.examples.get(nameOf(operation)) ?? [];
  const made = valueFor(schema, '', known);
  if (examples.length === 0) return made;
  const renamed = fc
    .tuple(fc.constantFrom(...examples), fc.nat({ max: 1_000_000_000 }))
    .map(([example, number]) => withNewName(example, number));
  return fc.oneof(
    { weight: 2, arbitrary: fc.constantFrom(...examples) },
    { weight: 2, arbitrary: renamed },
    { weight: 1, arbitrary: made },
  );
}

const asJson = (value: unknown): string => JSON.stringify(value) ?? 'undefined';

interface Sent {
  type: string | null;
  body: string | Uint8Array | null;
}

function bodyFor(operation: Operation, known: Known, kind: FuzzRequest['kind']): fc.Arbitrary<Sent> {
  const { body: schema, takesFile } = operation;
  if (takesFile) return fileFor(known, kind);
  if (schema === null)
    return kind === 'hostile'
      ? fc.constantFrom<Sent>({ type: null, body: null }, { type: 'application/json', body: '{' })
      : fc.constant({ type: null, body: null });
  const json = (body: string | Uint8Array): Sent => ({ type: 'application/json', body });
  const sound = soundBody(schema, operation, known);
  if (kind === 'sound') return sound.map((value) => json(asJson(value)));
  if (kind === 'spoilt') return spoilt(sound).map((value) => json(asJson(value)));
  return fc.oneof(
    { weight: 12, arbitrary: fc.constantFrom(...hostile.HOSTILE_BODIES).map(json) },
    { weight: 6, arbitrary: hostile.hostileValue.map((value) => json(asJson(value))) },
    {
      weight: 6,
      arbitrary: fc
        .tuple(sound, fc.constantFrom(...hostile.CONTENT_TYPES))
        .map(([value, type]) => ({ type, body: asJson(value) })),
    },
    // Cut off anywhere.
    { weight: 4, arbitrary: fc.tuple(sound, fc.nat()).map(([value, at]) => json(cut(asJson(value), at))) },
    { weight: 1, arbitrary: fc.constant(null).map(() => json(hostile.HUGE_BODY())) },
  );
}

const cut = (text: string, at: number): string => text.slice(0, at % Math.max(1, text.length));

function fileFor({ files }: Known, kind: FuzzRequest['kind']): fc.Arbitrary<Sent> {
  const csv = (body: string | Uint8Array): Sent => ({ type: 'text/csv', body });
  const sound = fc.constantFrom(...files);
  if (kind === 'sound') return sound.map(csv);
  const withoutCell = fc
    .tuple(sound, fc.nat(), fc.constantFrom(...hostile.HOSTILE_TEXTS))
    .map(([file, at, text]) => {
      const cells = file.split(/(?<=[,;\n])|(?=[,;\r\n])/);
      cells[at % cells.length] = text;
      return csv(cells.join(''));
    });
  if (kind === 'spoilt') return withoutCell;
  return fc.oneof(
    { weight: 6, arbitrary: fc.constantFrom(...hostile.HOSTILE_FILES).map(csv) },
    { weight: 2, arbitrary: fc.tuple(sound, fc.nat()).map(([file, at]) => csv(cut(file, at))) },
    {
      weight: 2,
      arbitrary: fc
        .tuple(sound, fc.constantFrom(...hostile.CONTENT_TYPES))
        .map(([body, type]) => ({ type, body })),
    },
  );
}

/** A request put together from records that hang together; or the same spoilt in a place or two. */
export function requestOf(operation: Operation, { path, body, file, headers, as }: Sound): FuzzRequest {
  const type = file === undefined ? 'application/json' : 'text/csv';
  const sent = file ?? (body === undefined ? null : asJson(body));
  return {
    operation: nameOf(operation),
    kind: 'sound',
    method: operation.method,
    address: path,
    headers: { ...(sent === null ? {} : { 'content-type': type }), ...headers },
    body: sent,
    as: as ?? 'owner',
  };
}

export function spoiltOf(operation: Operation, sound: Sound): fc.Arbitrary<FuzzRequest> | null {
  if (sound.body === undefined) return null;
  return spoilt(fc.constant(sound.body)).map((body) => ({
    ...requestOf(operation, { ...sound, body }),
    kind: 'spoilt',
  }));
}

/** A sound request as the owner makes it, of what is there, with nothing that need not be said. */
export function plainRequestFor(operation: Operation, known: Known): fc.Arbitrary<FuzzRequest> {
  const required = operation.parameters.filter((one) => one.required === true);
  return fc
    .record({
      path: pathFor(operation, known, false),
      query: queryFor(required, known, false),
      sent: bodyFor(operation, known, 'sound'),
    })
    .map(({ path, query, sent }) => ({
      operation: nameOf(operation),
      kind: 'sound',
      method: operation.method,
      address: `${path}${query}`,
      headers: {
        ...(sent.type === null ? {} : { 'content-type': sent.type }),
        ...(operation.method === 'DELETE' ? { 'if-match': '*' } : {}),
      },
      body: operation.method === 'GET' ? null : sent.body,
      as: 'owner',
    }));
}

/** Requests for one operation: sound, spoilt in a place or two, or hostile through and through. */
export function requestFor(operation: Operation, known: Known): fc.Arbitrary<FuzzRequest> {
  const kinds = fc.oneof(
    { weight: 2, arbitrary: fc.constant('sound' as const) },
    { weight: 6, arbitrary: fc.constant('spoilt' as const) },
    { weight: 4, arbitrary: fc.constant('hostile' as const) },
  );
  return kinds.chain((kind) => {
    const isHostile = kind === 'hostile';
    return fc
      .record({
        path: pathFor(operation, known, isHostile),
        query: queryFor(operation.parameters, known, kind !== 'sound'),
        sent: bodyFor(operation, known, kind),
        odd: isHostile ? fc.oneof(fc.constant({}), fc.constantFrom(...hostile.ODD_HEADERS)) : fc.constant({}),
        method: isHostile
          ? fc.oneof(
              { weight: 6, arbitrary: fc.constant(operation.method) },
              { weight: 1, arbitrary: fc.constantFrom(...hostile.ODD_METHODS) },
            )
          : fc.constant(operation.method),
        as: fc.oneof(
          { weight: 9, arbitrary: fc.constant('owner' as const) },
          { weight: 1, arbitrary: fc.constant('nobody' as const) },
        ),
        match: fc.constantFrom('*', '"1"', '"2"'),
      })
      .map(({ path, query, sent, odd, method, as, match }) => ({
        operation: nameOf(operation),
        kind,
        method,
        address: `${path}${query}`,
        headers: {
          ...(sent.type === null ? {} : { 'content-type': sent.type }),
          ...(method === 'DELETE' ? { 'if-match': match } : {}),
          ...(odd as Record<string, string>),
        },
        body: method === 'GET' || method === 'HEAD' ? null : sent.body,
        as,
      }));
  });
}
