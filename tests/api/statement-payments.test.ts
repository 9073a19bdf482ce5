import { expect, it } from 'vitest';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';
import { issue, soldParcel } from '../support/settled-parcel.ts';

describeOnEveryEngine('payments of a statement', (open) => {
  async function issued() {
    const { db } = await open();
    const mill = await smallMill(db);
    const { entry } = await soldParcel(mill);
    const ours = await issue(mill, entry, '2026-06-09');
    const standing = async () => (await mill.enter('GET', '/statements'))[0];
    return { ...mill, ours, standing, path: `/statements/${ours.id}/payments` };
  }

  it('are kept by day, add up on the list, and can be taken out again', async () => {
    const { enter, send, path, standing, ours } = await issued();
    expect(await standing()).toMatchObject({ paid: '0', total: ours.total });
    const later = await enter('POST', path, {
      paidOn: '2026-07-02',
      amount: '1000.10',
      currency: ours.currency,
      reference: 'transfer 7',
    });
    await enter('POST', path, { paidOn: '2026-06-30', amount: '250', currency: ours.currency });
    const kept = await enter('GET', path);
    expect(kept.map(({ paidOn }: { paidOn: string }) => paidOn)).toEqual(['2026-06-30', '2026-07-02']);
    expect((await standing()).paid).toBe('1250.10');
    expect((await send('DELETE', `${path}/${later.id}`)).status).toBe(204);
    expect((await standing()).paid).toBe('250');
    expect((await send('DELETE', `${path}/${later.id}`)).status).toBe(404);
  });

  it('in another currency say what they settle', async () => {
    const { send, path, standing, ours } = await issued();
    const currency = ours.currency === 'EUR' ? 'USD' : 'EUR';
    const bare = await send('POST', path, { paidOn: '2026-07-02', amount: '900', currency });
    expect(bare.status).toBe(422);
    expect(bare.body.errors[0].pointer).toBe('/countsAs');
    const told = { paidOn: '2026-07-02', amount: '900', currency, countsAs: '981.20' };
    expect((await send('POST', path, told)).status).toBe(201);
    expect((await standing()).paid).toBe('981.20');
  });

  it.each([
    [{ paidOn: '2026-09-02' }, '/paidOn'],
    [{ amount: '0' }, '/amount'],
    [{ amount: '-5' }, '/amount'],
    [{ currency: 'dollars' }, '/currency'],
  ])('refuse %j', async (wrong, pointer) => {
    const { send, path, ours } = await issued();
    const answer = await send('POST', path, {
      paidOn: '2026-07-02',
      amount: '10',
      currency: ours.currency,
      ...wrong,
    });
    expect(answer.status).toBe(422);
    expect(answer.body.errors[0].pointer).toBe(pointer);
  });

  it('wait for the statement to be issued', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const { entry } = await soldParcel(mill);
    const draft = await mill.enter('POST', '/statements', entry);
    const payment = { paidOn: '2026-07-02', amount: '10', currency: draft.currency };
    expect((await mill.send('POST', `/statements/${draft.id}/payments`, payment)).status).toBe(422);
    expect(draft.dueOn).toBeNull();
  });

  it('are due on a day that the statement prints with the days that its terms count from', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const { body, counterpartyId } = await mill.enter('GET', `/terms/${mill.smelterTermsId}`);
    const { id: termsId } = await mill.enter('POST', '/terms', {
      counterpartyId,
      name: 'Paid after arrival',
      validFrom: '2026-01-01',
      body: {
        ...body,
        payment: [
          { stage: 'provisional', days: 10, dayKind: 'calendar', after: 'arrival' },
          { stage: 'final', days: 10, dayKind: 'calendar', after: 'assay-exchange' },
        ],
      },
    });
    const { entry } = await soldParcel(mill);
    const ours = await issue(mill, { ...entry, termsId }, '2026-06-10');
    const report = await mill.enter('GET', `/statements/${ours.id}/report`);
    const { facts } = report.blocks.find(({ kind }: { kind: string }) => kind === 'facts');
    const printed = facts.map(({ label, value }: { label: string; value: string }) => [label, value]);
    expect(Object.fromEntries(printed)).toMatchObject({
      'Issued on': '10 Jun 2026',
      'Shipped on': '6 Jun 2026',
      'Arrived on': '8 Jun 2026',
      'Assays exchanged on': 'Not entered yet',
      'Drawn up on': '9 Jun 2026',
      // Ten days after 8 June.
      'Payment due on': '18 Jun 2026',
    });
  });

  it('start the interest on an advance on the day they came', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const { enter } = mill;
    const { body, counterpartyId } = await enter('GET', `/terms/${mill.smelterTermsId}`);
    const { id: termsId } = await enter('POST', '/terms', {
      counterpartyId,
      name: 'With interest',
      validFrom: '2026-01-01',
      body: {
        ...body,
        interest: { rateFrac: '0.09', dayCount: 'ACT/360', period: { kind: 'until', event: 'statement' } },
      },
    });
    const { entry } = await soldParcel(mill);
    const advance = await issue(mill, { ...entry, termsId }, '2026-06-09');
    const final = {
      ...entry,
      termsId,
      stage: 'final',
      assays: entry.assays.map((assay) => ({ ...assay, buyer: assay.own })),
      agreedPrices: [
        { metal: 'Au', price: '2400', basis: 'agreed' },
        { metal: 'Ag', price: '30', basis: 'agreed' },
      ],
      dates: { ...entry.dates, statementOn: '2026-07-29' },
    };
    const interestOf = async () => {
      const settlement = await enter('POST', '/statements/preview', final);
      const line = settlement.lines.find(({ id }: { id: string }) => id.startsWith('previous/interest/'));
      const codes = settlement.findings.map(({ code }: { code: string }) => code);
      return { working: line?.working, saysIssueDay: codes.includes('interest-from-issue-day') };
    };
    // 9 June to 29 July, then from 29 June: 50 and 30 days.
    expect(await interestOf()).toMatchObject({
      working: expect.stringContaining('× 9 % × 50 days ÷ 360'),
      saysIssueDay: true,
    });
    await enter('POST', `/statements/${advance.id}/payments`, {
      paidOn: '2026-06-29',
      amount: advance.total,
      currency: advance.currency,
    });
    expect(await interestOf()).toMatchObject({
      working: expect.stringContaining('× 9 % × 30 days ÷ 360'),
      saysIssueDay: false,
    });
  });
});
