import { describe, expect, expectTypeOf, it } from 'vitest';
import type { z } from 'zod';
import { startingTerms } from '../../api/calc/terms/starting-terms.ts';
import type { Terms } from '../../api/calc/terms/terms.ts';
import { termsSchema } from '../../api/schemas/terms.ts';

describe('terms schema', () => {
  it('has the very type that the calculation takes', () => {
    expectTypeOf<z.infer<typeof termsSchema>>().toEqualTypeOf<Terms>();
    expectTypeOf<z.input<typeof termsSchema>>().toEqualTypeOf<Terms>();
  });

  it.each(['concentrate', 'dore', 'by-product'] as const)(
    'takes the starting terms of %s unchanged',
    (material) => {
      const terms = startingTerms({ title: 'An invented contract', material });
      expect(termsSchema.parse(JSON.parse(JSON.stringify(terms)))).toEqual(terms);
    },
  );

  it.each([
    ['tollShareFrac', '1.2'],
    ['tollShareFrac', '-0.1'],
    ['tollShareFrac', '5e-1'],
    ['tollShareFrac', ''],
    ['tollShareFrac', '0,5'],
    ['currency', 'usd'],
    ['title', '  '],
    ['material', 'ore'],
  ])('refuses %s %s', (field, value) => {
    const terms = {
      ...startingTerms({ title: 'An invented contract', material: 'concentrate' }),
      [field]: value,
    };
    const parsed = termsSchema.safeParse(terms);
    expect(parsed.success).toBe(false);
    expect(parsed.error?.issues[0]?.path).toEqual([field]);
  });
});
