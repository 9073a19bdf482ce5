import { expect, it } from 'vitest';
import { workLot } from '../../api/calc/facts/lot-evidence.ts';
import { assumptions } from '../../api/schemas/decision.ts';
import { decisionFacts } from '../../db/queries/facts.ts';
import { formatRange } from '../../reports/model/format.ts';
import type { Report } from '../../reports/model/report.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

describeOnEveryEngine('the grade of a lot in the season', (open) => {
  it('is that of the lot’s own page, figure for figure', async () => {
    const { db } = await open();
    const { enter, seasonId, balanceId } = await smallMill(db);
    const lot = await enter('POST', '/lots', {
      seasonId,
      code: 'T-1',
      madeOn: '2026-05-20',
      wetMassKg: '250',
      moistureFrac: '0',
    });
    const smelt = {
      newTrial: { lotId: lot.id, name: 'Raw' },
      sample: '1',
      smeltedOn: '2026-06-01',
      sampleMassG: 100,
      roasted: false,
      sampleBalanceId: balanceId,
      beadBalanceId: balanceId,
      beadMg: 250,
      partedGoldMg: 60,
    };
    const { trialId } = await enter('POST', '/test-smelts', smelt);
    const unparted = { newTrial: null, trialId, sample: '2', beadMg: 244, partedGoldMg: null };
    await enter('POST', '/test-smelts', { ...smelt, ...unparted });
    // What the page works from, and the draws that it takes.
    const facts = await decisionFacts(db, lot.id, '2026-09-01');
    const { summary } = workLot(facts, assumptions.parse({})).inference;
    const season = (await enter('GET', `/seasons/${seasonId}/summary`)) as Report;
    const cells = season.blocks
      .flatMap((block) => (block.kind === 'table' ? block.rows : []))
      .map((row) => row.cells)
      .filter(({ code }) => code === 'T-1');
    expect(cells).toMatchObject([
      { gold: formatRange(summary.Au.gradeGpt!), silver: formatRange(summary.Ag.gradeGpt!) },
    ]);
  });
});
