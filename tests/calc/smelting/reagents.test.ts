import { describe, expect, it } from 'vitest';
import { reagentByName, reagentNames } from '../../../api/calc/smelting/reagents.ts';

describe('reagents by name', () => {
  it.each(reagentNames)('knows %s by its own name', (reagent) => {
    expect(reagentByName(reagent)).toBe(reagent);
  });

  it.each([
    ['Nitre, technical', 'nitre'],
    ['Saltpeter', 'nitre'],
    ['  Soda  Ash (light) ', 'soda ash'],
    ['Borax glass', 'anhydrous borax'],
    ['Iron rod', 'iron'],
    ['Collector lead', 'lead'],
  ])('takes %s for %s', (name, reagent) => {
    expect(reagentByName(name)).toBe(reagent);
  });

  it.each(['Borax substitute', 'Sodium nitrate', 'Thinning flux', '', 'Lead flashing remover'])(
    'takes %s for nothing it knows',
    (name) => {
      expect(reagentByName(name)).toBeNull();
    },
  );
});
