import { describe, expect, it } from 'vitest';
import { chargeBulkVolumeMl, checkCharge, reagentsOfCharge } from '../../../api/calc/facts/check-charge.ts';
import { smeltFromRecord } from '../../../api/calc/facts/smelt-from-record.ts';
import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { bulkDensitiesGpml } from '../../../api/calc/smelting/bulk-density.ts';
import { facts, record } from './bench-facts.ts';

const codes = (findings: readonly { code: string }[] | undefined): string[] =>
  (findings ?? []).map(({ code }) => code);

describe('the charge of a test smelt', () => {
  it('is told by what the supplies are called, litharge by its kind, lead and iron by their fields', () => {
    const charge = reagentsOfCharge(
      {
        reagents: [
          { supplyId: 'soda', massG: 60 },
          { supplyId: 'litharge', massG: 30 },
          { supplyId: 'powder', massG: 5 },
        ],
        collectorLeadG: 40,
        ironInG: 12,
      },
      facts.supplies,
    );
    expect(charge.masses).toEqual({ 'soda ash': 60, litharge: 30, lead: 40, iron: 12 });
    expect(charge.unknown).toEqual(['Grey powder of the neighbour']);
  });

  it('fills as much as its parts do loose: mass over bulk density, half of the concentrate being voids', () => {
    // Specific gravities 5.02 and 2.65 (Dana and Ford, 1932): 60 g and 40 g of solid, doubled by the voids.
    const concentrateMl = 2 * (60 / 5.02 + 40 / 2.65);
    const byHand =
      concentrateMl +
      60 / bulkDensitiesGpml['soda ash'].value +
      20 / bulkDensitiesGpml.borax.value +
      40 / bulkDensitiesGpml.lead.value;
    expect(chargeBulkVolumeMl(record, facts)).toBeCloseTo(byHand, 9);
  });

  it('takes the calcine where the roast was weighed', () => {
    const roasted = { ...record, roasted: true, massBeforeRoastG: 100, massAfterRoastG: 75 };
    const raw = chargeBulkVolumeMl(record, facts) ?? 0;
    const calcine = chargeBulkVolumeMl(roasted, facts) ?? 0;
    expect(raw - calcine).toBeCloseTo(0.25 * 2 * (60 / 5.02 + 40 / 2.65), 9);
  });

  it('has no volume where a reagent is not known, and says so', () => {
    const odd = { ...record, reagents: [{ supplyId: 'powder', massG: 5 }] };
    expect(chargeBulkVolumeMl(odd, facts)).toBeNull();
    const finding = checkCharge(odd, facts)?.findings.find(({ code }) => code === 'reagent-unknown');
    expect(finding?.sentence).toContain('Grey powder of the neighbour');
  });

  it('is stopped before the melt when it would fill the crucible above three quarters', () => {
    const volume = chargeBulkVolumeMl(record, facts) ?? 0;
    const inCrucible = (crucibleVolumeMl: number) =>
      codes(checkCharge({ ...record, crucibleVolumeMl }, facts)?.findings);
    expect(inCrucible(volume / 0.76)).toContain('crucible-over-filled');
    expect(inCrucible(volume / 0.7)).toContain('crucible-rather-full');
    expect(inCrucible(volume / 0.3)).not.toContain('crucible-rather-full');
  });

  it('is found over-filled after the melt too, by the record', () => {
    const volume = chargeBulkVolumeMl(record, facts) ?? 0;
    const { smelt } = smeltFromRecord({ ...record, crucibleVolumeMl: volume / 0.8 }, facts);
    expect(codes(workTestSmelt(smelt).findings)).toContain('crucible-over-filled');
  });

  it('says of nitre with flour whatever the lot is, and asks for the minerals where they are not named', () => {
    const both = {
      ...record,
      reagents: [
        { supplyId: 'nitre', massG: 20 },
        { supplyId: 'flour', massG: 3 },
      ],
    };
    const unnamed = checkCharge(both, { ...facts, lot: { minerals: [] } });
    expect(unnamed?.work).toBeNull();
    expect(codes(unnamed?.findings)).toEqual(
      expect.arrayContaining(['nitre-with-reducers', 'minerals-not-named']),
    );
    expect(codes(unnamed?.findings)).not.toContain('minerals-incomplete');
    expect(codes(checkCharge(both, facts)?.findings)).toContain('nitre-with-reducers');
  });

  it('expects less matte the more sulfur a weighed roast drove off, and none after a dead one', () => {
    const matte = (massAfterRoastG: number | null) =>
      checkCharge({ ...record, roasted: true, massBeforeRoastG: 100, massAfterRoastG }, facts)?.work?.matte
        .matteG.value ?? Number.NaN;
    // Pyrite loses 33.4 % when roasted dead: 60 g of it, 20.0 g.
    expect(matte(90)).toBeGreaterThan(matte(85));
    expect(matte(85)).toBeGreaterThan(1);
    expect(matte(79.96)).toBeCloseTo(0, 1);
    expect(matte(null)).toBe(0);
  });

  it('says nothing before there is a charge', () => {
    expect(checkCharge({ ...record, reagents: [], collectorLeadG: null }, facts)).toBeNull();
    expect(checkCharge({ ...record, sampleMassG: 0 }, facts)).toBeNull();
  });
});
