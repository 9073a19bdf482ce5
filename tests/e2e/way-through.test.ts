import { it } from 'vitest';
import { lot, quotations, settings, supplies, terms, testSmelts, treatments } from './way-through-entry.ts';
import { batch, books, chargeSheet, decision, final, grades, provisional } from './way-through-work.ts';
import { describeWithPoursheet } from './with-poursheet.ts';

describeWithPoursheet('the whole way through', { empty: true }, (mill) => {
  it('leads from an empty mill to the accountant', { timeout: 400_000 }, async () => {
    const page = await mill.openTab();
    await page.goto('/');
    await settings(page);
    await supplies(page);
    await quotations(page);
    await treatments(page);
    await terms(page);
    await lot(page);
    await testSmelts(page);
    await grades(page);
    await decision(page);
    await chargeSheet(page);
    await batch(page);
    await provisional(page);
    await final(page);
    await books(page);
  });
});
