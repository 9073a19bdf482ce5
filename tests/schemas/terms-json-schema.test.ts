import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Terms } from '../../api/calc/terms/terms.ts';
import { startingTerms } from '../../api/calc/terms/starting-terms.ts';
import { refinerTerms, smelterTerms, traderTerms } from '../../api/demo/invented-terms.ts';
import { termsSchema } from '../../api/schemas/terms.ts';
import { concentrateTerms, doreTerms } from '../calc/settlement/arbitrary-terms.ts';

/**
 * The published JSON Schema of a contract, read as JSON Schema draft 2020-12 says (A. Wright et al., JSON Schema:
 * A Media Type for Describing JSON Documents, and its validation vocabulary, 2020) by a reader of its own, which
 * knows no keyword that it does not work out.
 */
interface JsonSchema {
  $schema?: string;
  description?: string;
  type?: string | string[];
  const?: unknown;
  enum?: unknown[];
  anyOf?: JsonSchema[];
  oneOf?: JsonSchema[];
  properties?: Record<string, JsonSchema>;
  required?: string[];
  additionalProperties?: boolean;
  items?: JsonSchema;
  minItems?: number;
  maxItems?: number;
  minLength?: number;
  maxLength?: number;
  minimum?: number;
  maximum?: number;
  pattern?: string;
}
const KNOWN = new Set([
  '$schema',
  'description',
  'type',
  'const',
  'enum',
  'anyOf',
  'oneOf',
  'properties',
  'required',
  'additionalProperties',
  'items',
  'minItems',
  'maxItems',
  'minLength',
  'maxLength',
  'minimum',
  'maximum',
  'pattern',
]);

const published = z.toJSONSchema(termsSchema) as JsonSchema;

function typeOf(value: unknown): string {
  if (value === null) return 'null';
  return Array.isArray(value) ? 'array' : typeof value;
}

/** Where a value is not as the schema has it, as JSON pointers. */
function faults(schema: JsonSchema, value: unknown, at = ''): string[] {
  const found: string[] = [];
  const claim = (holds: boolean) => {
    if (!holds) found.push(at);
  };
  const { type } = schema;
  if (type !== undefined)
    claim([type].flat().some((one) => (one === 'integer' ? Number.isInteger(value) : typeOf(value) === one)));
  if ('const' in schema) claim(value === schema.const);
  if (schema.enum !== undefined) claim(schema.enum.includes(value));
  const passes = (one: JsonSchema) => faults(one, value, at).length === 0;
  if (schema.anyOf !== undefined) claim(schema.anyOf.some(passes));
  if (schema.oneOf !== undefined) claim(schema.oneOf.filter(passes).length === 1);
  if (typeof value === 'string') {
    claim(value.length >= (schema.minLength ?? 0) && value.length <= (schema.maxLength ?? Infinity));
    if (schema.pattern !== undefined) claim(new RegExp(schema.pattern, 'u').test(value));
  }
  if (typeof value === 'number')
    claim(value >= (schema.minimum ?? -Infinity) && value <= (schema.maximum ?? Infinity));
  if (Array.isArray(value)) {
    claim(value.length >= (schema.minItems ?? 0) && value.length <= (schema.maxItems ?? Infinity));
    const { items } = schema;
    if (items !== undefined)
      value.forEach((item, index) => found.push(...faults(items, item, `${at}/${index}`)));
  } else if (typeof value === 'object' && value !== null) {
    const { properties = {}, required = [] } = schema;
    for (const name of required) if (!(name in value)) found.push(`${at}/${name}`);
    for (const [name, part] of Object.entries(value)) {
      const known = properties[name];
      if (known !== undefined) found.push(...faults(known, part, `${at}/${name}`));
      else if (schema.additionalProperties === false) found.push(`${at}/${name}`);
    }
  }
  return found;
}

function keywordsOf(schema: JsonSchema): string[] {
  const { properties = {}, items, anyOf = [], oneOf = [] } = schema;
  const parts = [...Object.values(properties), ...(items === undefined ? [] : [items]), ...anyOf, ...oneOf];
  return [...Object.keys(schema), ...parts.flatMap(keywordsOf)];
}

const asFile = (terms: unknown): unknown => JSON.parse(JSON.stringify(terms));

describe('the JSON Schema of a contract', () => {
  it('is of draft 2020-12 and uses only keywords of it that are worked out here', () => {
    expect(published.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(keywordsOf(published).filter((keyword) => !KNOWN.has(keyword))).toEqual([]);
  });

  it.each<[string, Terms]>([
    ['a smelter', smelterTerms],
    ['a trader', traderTerms],
    ['a refiner', refinerTerms],
    ['a new by-product contract', startingTerms({ title: 'An invented contract', material: 'by-product' })],
  ])('holds the terms of %s', (_who, terms) => {
    expect(faults(published, asFile(terms))).toEqual([]);
  });

  it('holds every contract that can be generated, and each comes back from its file as it was', () => {
    fc.assert(
      fc.property(fc.oneof(concentrateTerms, doreTerms), (terms) => {
        const file = asFile(terms);
        expect(faults(published, file)).toEqual([]);
        expect(asFile(termsSchema.parse(file))).toEqual(file);
      }),
      { numRuns: 200 },
    );
  });

  const metal = asFile(smelterTerms.metals[0]) as Record<string, unknown>;
  const priced = (basis: unknown) => ({
    ...smelterTerms,
    metals: [{ ...metal, price: { ...(metal.price as object), basis } }],
  });
  it.each<[string, unknown]>([
    ['a missing clause', { ...smelterTerms, metals: undefined }],
    ['a number for a decimal text', { ...smelterTerms, tollShareFrac: 0 }],
    ['a decimal comma', { ...smelterTerms, tollShareFrac: '0,1' }],
    ['a power of ten', { ...smelterTerms, tollShareFrac: '1e-1' }],
    ['a fraction below zero', { ...smelterTerms, tollShareFrac: '-0.1' }],
    ['a unit of its own', { ...smelterTerms, weights: { ...smelterTerms.weights, unit: 'stone' } }],
    ['a price by grade without steps', priced({ kind: 'by-grade', steps: [] })],
    ['a price by grade with a number', priced({ kind: 'by-grade', steps: [{ fromGrade: 1, price: '2' }] })],
    ['a choice by another rule', priced({ kind: 'choice', rule: 'best', options: [] })],
  ])('refuses %s, as the program does', (_what, terms) => {
    const file = asFile(terms);
    expect(faults(published, file)).not.toEqual([]);
    expect(termsSchema.safeParse(file).success).toBe(false);
  });
});
