import { expect, it } from 'vitest';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';
import { issue, soldParcel } from '../support/settled-parcel.ts';
import { filesInZip } from '../support/zip-reader.ts';

describeOnEveryEngine('the statements of a season as one archive', (open) => {
  it('hold every issued statement as its own page prints it, named by number, and no draft', async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const { enter, send, seasonId } = mill;
    const address = `/seasons/${seasonId}/statements.zip`;
    expect(await send('GET', address)).toMatchObject({
      status: 404,
      body: { detail: expect.stringContaining('issued yet') },
    });

    const first = await soldParcel(mill, 'A');
    const second = await soldParcel(mill, 'B');
    const issued = [
      await issue(mill, first.entry, '2026-06-09'),
      await issue(mill, { ...first.entry, stage: 'final', agreedPrices: agreed }, '2026-07-02'),
      await issue(mill, second.entry, '2026-06-20'),
    ];
    await enter('POST', '/statements', { ...second.entry, stage: 'final', agreedPrices: agreed });

    const answer = await send('GET', address);
    expect(answer.status).toBe(200);
    expect(answer.headers.get('content-type')).toBe('application/zip');
    expect(answer.headers.get('content-disposition')).toMatch(/^attachment; filename="statements-.+\.zip"$/);
    expect(answer.headers.get('x-statement-count')).toBe('3');
    const files = filesInZip(Buffer.from(answer.body));
    expect(files.map(({ name, day }) => [name, day])).toEqual([
      ['S-0001-provisional.pdf', '2026-06-09'],
      ['S-0002-final.pdf', '2026-07-02'],
      ['S-0003-provisional.pdf', '2026-06-20'],
    ]);
    for (const [index, { id }] of issued.entries()) {
      const { body } = await send('GET', `/statements/${id}/statement.pdf`);
      expect(files[index]?.bytes.equals(Buffer.from(body)), files[index]?.name).toBe(true);
    }
    expect((await send('GET', '/seasons/00000000-0000-4000-8000-000000000000/statements.zip')).status).toBe(
      404,
    );
  });
});

const agreed = [
  { metal: 'Au', price: '2400', basis: 'agreed' },
  { metal: 'Ag', price: '30', basis: 'agreed' },
];
