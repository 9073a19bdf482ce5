import { describe, expect, it } from 'vitest';
import type { BlendPart } from '../../../api/calc/facts/blend.ts';
import { workBlend, workParts } from '../../../api/calc/facts/blend.ts';
import { blendQuestion, decideLot, decideQuestion } from '../../../api/calc/facts/decide-lot.ts';
import type { DecisionFacts, LotFacts } from '../../../api/calc/facts/records.ts';
import { refusals } from '../../../api/calc/facts/sale-option.ts';
import { METALS } from '../../../api/calc/evidence/lot-evidence.ts';
import { meanOfDraws } from '../../../api/calc/statistics/draws.ts';
import { assumptions } from '../../../api/schemas/decision.ts';
import { inventedFacts } from './invented-lot.ts';

const plain = assumptions.parse({ drawCount: 4000 });

function lotOf(
  id: string,
  gold: string,
  arsenic: string | null,
  parts: Partial<LotFacts> = {},
): DecisionFacts {
  const facts = inventedFacts();
  const labAssays = facts.lot.labAssays.flatMap((assay) => {
    if (assay.element === 'Au') return [{ ...assay, value: gold }];
    if (assay.element === 'As') return arsenic === null ? [] : [{ ...assay, value: arsenic }];
    return [assay];
  });
  return { ...facts, lot: { ...facts.lot, id, code: id, labAssays, ...parts } };
}

const part = (facts: DecisionFacts, dryMassKg: number, leftKg: number | null = null): BlendPart => ({
  facts,
  dryMassKg,
  leftKg,
});

const rich = lotOf('R-1', '900', '2.0', { moistureFrac: '0.10' });
const poor = lotOf('P-2', '300', '0.1', { moistureFrac: '0.04' });
const blendOf = (...parts: BlendPart[]) => workBlend(workParts(parts, plain));

describe('a blend of lots', () => {
  it('of one lot is that lot, to the last digit', () => {
    const alone = decideLot(rich, plain, 400).decision;
    const blended = decideQuestion(blendQuestion(blendOf(part(rich, 400)), plain)).decision;
    expect(blended.options.map(({ id }) => id)).toEqual(alone.options.map(({ id }) => id));
    for (const [place, option] of blended.options.entries())
      expect(option.netValue.mean).toBeCloseTo(alone.options[place]!.netValue.mean, 6);
  });

  it('mixes masses, water, elements and metal as a balance on paper does', () => {
    // 300 kg of 900 g/t with 2 % As and 100 kg of 300 g/t with 0.1 %: 750 g/t, 1.525 %; wet 300/0.90 + 100/0.96 kg.
    const { facts, evidence, dryMassKg } = blendOf(part(rich, 300), part(poor, 100));
    expect(dryMassKg).toBe(400);
    expect(Number(facts.lot.moistureFrac)).toBeCloseTo(1 - 400 / (300 / 0.9 + 100 / 0.96), 12);
    const arsenic = facts.lot.labAssays.find(({ element }) => element === 'As');
    expect(Number(arsenic?.value)).toBeCloseTo(15_250, 6);
    const goldGpt = evidence.inference.summary.Au.gradeGpt;
    expect(goldGpt?.mean).toBeGreaterThan(750 - 3 * goldGpt!.sd);
    expect(goldGpt?.mean).toBeLessThan(750 + 3 * goldGpt!.sd);
  });

  it('keeps every milligram in every draw: what the blend recovers is what its lots recover', () => {
    const worked = workParts([part(rich, 300), part(poor, 100)], plain);
    const { evidence } = workBlend(worked);
    const { draws } = evidence.inference;
    for (const metal of METALS)
      for (const { id } of rich.treatments)
        for (let n = 0; n < draws.drawCount; n += 97) {
          const blended = 400 * draws.gradeGpt[metal][n]! * draws.recoveryFrac[id]![metal][n]!;
          // Neither lot was tried, so that both take the unknown recovery of the first.
          const [first] = worked;
          const recovered = worked.reduce(
            (sum, { part: { dryMassKg }, evidence: of }) =>
              sum +
              dryMassKg *
                of.inference.draws.gradeGpt[metal][n]! *
                first!.evidence.inference.draws.recoveryFrac[id]![metal][n]!,
            0,
          );
          expect(blended).toBeCloseTo(recovered, 8);
        }
  });

  it('knows two assayed lots better together than each alone, but not an untried recovery', () => {
    const twin = lotOf('R-2', '900', '2.0');
    const alone = blendOf(part(rich, 200)).evidence.inference.summary.Au;
    const both = blendOf(part(rich, 100), part(twin, 100)).evidence.inference.summary.Au;
    // Two independent means of equal weight: the spread is smaller by about √2 (variance of a mean).
    expect(both.gradeGpt!.sd / alone.gradeGpt!.sd).toBeGreaterThan(0.6);
    expect(both.gradeGpt!.sd / alone.gradeGpt!.sd).toBeLessThan(0.82);
    const raw = (summary: typeof both) =>
      summary.recoveries.find(({ treatmentId }) => treatmentId === 'raw')!.posterior;
    expect(raw(both).sd).toBeCloseTo(raw(alone).sd, 3);
  });

  it('weights the recoveries of lots that were tried by the metal they bring', () => {
    const tried = (facts: DecisionFacts, goldMg: number): DecisionFacts => ({
      ...facts,
      balances: [
        {
          id: 'balance',
          name: 'Balance',
          readabilityG: '0.0001',
          repeatabilityG: '0.0001',
          repeatabilityFrom: 'stated',
          checks: [],
        },
      ],
      trials: [
        {
          id: `trial ${facts.lot.id}`,
          name: 'raw',
          treatmentId: 'raw',
          smelts: ['A', 'B', 'C'].map((sample) => ({
            id: sample,
            sample,
            smeltedOn: '2026-05-01',
            sampleMassG: 100,
            roasted: false,
            massBeforeRoastG: null,
            massAfterRoastG: null,
            roastHours: null,
            roastTempC: null,
            reagents: [],
            collectorLeadG: 30,
            ironInG: null,
            ironOutG: null,
            crucibleVolumeMl: null,
            buttonG: 28,
            matteG: null,
            slagG: null,
            beadMg: goldMg + 200,
            partedGoldMg: goldMg,
            inquartSilverMg: null,
            matteGoldGpt: null,
            matteSilverGpt: null,
            slagGoldGpt: null,
            slagSilverGpt: null,
            blankMgPerLeadG: null,
            blankStandardUncertaintyMgPerLeadG: null,
            sampleBalanceId: 'balance',
            beadBalanceId: 'balance',
            setAsideReason: null,
          })),
        },
      ],
    });
    // Of 90 mg in 100 g 81 come out of the rich lot (90 %), of 30 mg 18 out of the poor one (60 %).
    const worked = workParts([part(tried(rich, 81), 100), part(tried(poor, 18), 100)], plain);
    const { draws } = workBlend(worked).evidence.inference;
    const { Au } = draws.recoveryFrac.raw!;
    const hand = worked.map(({ evidence }) => {
      const { gradeGpt, recoveryFrac } = evidence.inference.draws;
      return { gradeGpt: gradeGpt.Au, recoveryFrac: recoveryFrac.raw!.Au };
    });
    const expected = Au.map((_, n) => {
      const metal = hand.map(({ gradeGpt }) => gradeGpt[n]!);
      const recovered = hand.map((one, i) => metal[i]! * one.recoveryFrac[n]!);
      return (recovered[0]! + recovered[1]!) / (metal[0]! + metal[1]!);
    });
    expect(meanOfDraws(Au)).toBeCloseTo(meanOfDraws(expected), 10);
    // (81 + 18)/(90 + 30) = 82.5 %, well above the plain mean of 75 %.
    expect(meanOfDraws(Au)).toBeGreaterThan(0.78);
  });

  it('is the same however it is put together', () => {
    const one = blendQuestion(blendOf(part(rich, 300), part(poor, 100)), plain);
    const other = blendQuestion(blendOf(part(poor, 100), part(rich, 300)), plain);
    expect(decideQuestion(other).decision).toEqual(decideQuestion(one).decision);
    expect(decideQuestion(one).decision.sentence).toMatch(/this blend of R-1 and P-2/);
  });

  it('lets a clean lot carry a dirty one under a penalty that it meets alone', () => {
    const terms = rich.terms.find(({ body }) =>
      body.penalties.some(({ elements }) => elements.includes('As')),
    )!;
    const strict = {
      ...terms,
      body: {
        ...terms.body,
        acceptance: null,
        penalties: terms.body.penalties.map((penalty) => ({
          ...penalty,
          refusedAbove: penalty.elements.includes('As')
            ? penalty.unit === 'percent'
              ? '1.6'
              : '16000'
            : null,
        })),
      },
    };
    expect(refusals(strict, rich.lot, 300)).toHaveLength(1);
    const { facts } = blendOf(part(rich, 300), part(poor, 100));
    expect(refusals(strict, facts.lot, 400)).toEqual([]);
  });

  it('says what is not known of a lot, and what is more than is left', () => {
    const silent = lotOf('S-3', '500', null);
    const { findings } = blendOf(part(rich, 300, 250), part(silent, 100, 100));
    const said = (code: string) => findings.filter((finding) => finding.code === code);
    expect(said('element-not-known-of-all')[0]?.sentence).toMatch(/As is known of some lots .* not of S-3/);
    expect(said('more-than-is-left')).toEqual([
      expect.objectContaining({
        level: 'blocker',
        sentence: 'The blend takes 300 kg of R-1, but only 250 kg are left.',
      }),
    ]);
    expect(said('blend-assumed')[0]?.sentence).toMatch(/^Worked for 300 kg dry of R-1 and 100 kg dry of S-3/);
  });
});
