import { expect, it } from 'vitest';
import { termsInForce } from '../../db/queries/terms.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

describeOnEveryEngine('a contract in force', (open) => {
  it('is its newest version that has begun, and none once that has ended', async () => {
    const { db } = await open();
    const { enter } = await smallMill(db);
    const [first] = await enter('GET', '/terms');
    const named = async (on: string): Promise<number[]> =>
      (await termsInForce(db, on))
        .filter(({ familyId }) => familyId === first.familyId)
        .map(({ versionNumber }) => versionNumber);
    expect(first.validTo).toBeNull();
    await enter('POST', `/terms/${first.id}/versions`, {
      name: first.name,
      counterpartyId: first.counterpartyId,
      afterVersionNumber: first.versionNumber,
      validFrom: '2026-10-01',
      validTo: '2026-12-31',
      body: first.body,
    });
    expect(await named('2026-09-30')).toEqual([1]);
    expect(await named('2026-10-01')).toEqual([2]);
    expect(await named('2026-12-31')).toEqual([2]);
    expect(await named('2027-01-01')).toEqual([]);
  });
});
