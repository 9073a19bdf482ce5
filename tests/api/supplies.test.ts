import { expect, it } from 'vitest';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

describeOnEveryEngine('a supply', (open) => {
  it('goes with its prices while nothing names it, and stays once a recipe does', async () => {
    const { db } = await open();
    const { enter, send } = await smallMill(db);
    const { id } = await enter('POST', '/supplies', { name: 'Fluorspar', kind: 'reagent', unit: 'kg' });
    await enter('POST', `/supplies/${id}/prices`, {
      effectiveOn: '2026-01-01',
      price: '0.9',
      currency: 'USD',
    });
    expect((await send('DELETE', `/supplies/${id}`)).status).toBe(204);
    expect((await send('DELETE', `/supplies/${id}`)).status).toBe(404);

    const treatments: { recipe: { supplyId: string }[] }[] = await enter('GET', '/treatments');
    const named = treatments.flatMap(({ recipe }) => recipe)[0]?.supplyId;
    const refused = await send('DELETE', `/supplies/${named}`);
    expect(refused.status).toBe(409);
    const supplies: { id: string; prices: unknown[] }[] = await enter('GET', '/supplies');
    expect(supplies.find((supply) => supply.id === named)?.prices).toHaveLength(1);
    expect(supplies.some((supply) => supply.id === id)).toBe(false);
  });
});
