import fc from 'fast-check';
import type { JsonSchema } from './operations.ts';

/** What is there to be named: ids of records by table, and objects seen in answers. */
export interface Pool {
  /** In camel case: `testSmelt` → its ids. */
  ids: ReadonlyMap<string, readonly string[]>;
}

const NOWHERE = '00000000-0000-4000-8000-000000000000';

/** Ids that a field of this name may mean: `labourSupplyId` → those of supplies. */
function idsFor(field: string, { ids }: Pool): readonly string[] {
  const stem = field.replace(/Id$/, '').toLowerCase();
  const named = [...ids].filter(([table, all]) => all.length > 0 && stem.endsWith(table.toLowerCase()));
  const [table] = named.toSorted(([a], [b]) => b.length - a.length);
  return table?.[1] ?? [...ids.values()].flat();
}

const decimals = fc.constantFrom(
  '0',
  '0.05',
  '0.5',
  '0.92',
  '1',
  '2.5',
  '12',
  '40',
  '99.9',
  '250',
  '1800',
  '31.1034768',
);
const days = fc
  .date({ min: new Date('2025-11-01'), max: new Date('2026-10-20'), noInvalidDate: true })
  .map((day) => day.toISOString().slice(0, 10));
const words = fc.oneof(
  fc.constantFrom('Invented', 'L-77', 'Second trial', 'g/t', 'USD', 'Au', 'Ag', 'A'),
  fc.stringMatching(/^[A-Za-z0-9 -]{1,12}$/),
);

function textFor(schema: JsonSchema, field: string, pool: Pool): fc.Arbitrary<string> {
  const { format, pattern } = schema;
  if (format === 'uuid') {
    const known = idsFor(field, pool);
    return known.length === 0 ? fc.constant(NOWHERE) : fc.constantFrom(...known);
  }
  if (format === 'date') return days;
  if (pattern?.startsWith('^-?\\d') === true) return decimals;
  if (pattern === '^[A-Z]{3}$') return fc.constantFrom('USD', 'USD', 'EUR');
  if (pattern === '^[A-Z][a-z]?$') return fc.constantFrom('Au', 'Ag', 'As', 'Cu');
  if (pattern?.startsWith('^(day|lot') === true)
    return fc
      .constantFrom('day', 'lot', 'batch', 'product', 'shipment', 'statement')
      .chain((kind) =>
        textFor({ format: 'uuid' }, kind === 'day' ? 'productionDayId' : `${kind}Id`, pool).map(
          (id) => `${kind}:${id}`,
        ),
      );
  if (pattern !== undefined) return fc.stringMatching(new RegExp(pattern));
  return words.filter(
    (text) => text.length >= (schema.minLength ?? 0) && text.length <= (schema.maxLength ?? 99),
  );
}

function numberFor(schema: JsonSchema, isInteger: boolean): fc.Arbitrary<number> {
  const step = isInteger ? 1 : 1e-6;
  const low = Math.max(schema.minimum ?? -10, (schema.exclusiveMinimum ?? -Infinity) + step);
  const high = Math.min(schema.maximum ?? 1000, (schema.exclusiveMaximum ?? Infinity) - step);
  const least = Math.min(low, high);
  const most = Math.max(low, high);
  const usual = Math.min(most, least + 100);
  return isInteger
    ? fc.oneof(fc.integer({ min: Math.ceil(least), max: Math.floor(usual) }), fc.constantFrom(least, most))
    : fc.oneof(
        fc.double({ min: least, max: usual, noNaN: true }),
        fc.constantFrom(least, most, (least + usual) / 2),
      );
}

/** Values that a schema takes. What the document does not say (sums, days in order) may still refuse them. */
export function valueFor(schema: JsonSchema, field: string, pool: Pool): fc.Arbitrary<unknown> {
  const choices = schema.oneOf ?? schema.anyOf;
  if (choices !== undefined) return fc.oneof(...choices.map((choice) => valueFor(choice, field, pool)));
  if (schema.enum !== undefined) return fc.constantFrom(...schema.enum);
  const types = Array.isArray(schema.type) ? schema.type : [schema.type ?? 'object'];
  if (types.length > 1) return fc.oneof(...types.map((type) => valueFor({ ...schema, type }, field, pool)));
  switch (types[0]) {
    case 'string':
      return textFor(schema, field, pool);
    case 'number':
    case 'integer':
      return numberFor(schema, types[0] === 'integer');
    case 'boolean':
      return fc.boolean();
    case 'null':
      return fc.constant(null);
    case 'array':
      return fc.array(valueFor(schema.items ?? {}, field, pool), {
        minLength: Math.min(schema.minItems ?? 0, 30),
        maxLength: Math.max(Math.min(schema.minItems ?? 0, 30), Math.min(schema.maxItems ?? 3, 3)),
      });
    default:
      return objectFor(schema, field, pool);
  }
}

function objectFor(schema: JsonSchema, field: string, pool: Pool): fc.Arbitrary<unknown> {
  const { properties = {}, required = [], additionalProperties } = schema;
  if (Object.keys(properties).length === 0 && typeof additionalProperties === 'object')
    return fc.dictionary(fc.constantFrom('Au', 'Ag', 'a'), valueFor(additionalProperties, field, pool));
  const fields = Object.fromEntries(
    Object.entries(properties).map(([name, inner]) => [name, valueFor(inner, name, pool)]),
  );
  const requiredKeys = required.filter((name) => Object.hasOwn(fields, name));
  return fc.record(fields, { requiredKeys });
}
