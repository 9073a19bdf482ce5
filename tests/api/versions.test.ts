import { expect, it } from 'vitest';
import { describeOnEmbedded } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

const lotOf = (seasonId: string) => ({
  seasonId,
  code: 'V-1',
  madeOn: '2026-06-10',
  wetMassKg: '200',
  moistureFrac: '0.08',
  minerals: [
    { mineral: 'pyrite', massFrac: '0.6' },
    { mineral: 'quartz', massFrac: '0.2' },
  ],
});

// RFC 9110, 8.8.3 (ETag), 13.1.1 (If-Match) and 15.5.13 (412); RFC 6585, 3 (428).
describeOnEmbedded('the version of a record', (open) => {
  it('comes as its ETag, and a change under an older one is told what changed meanwhile', async () => {
    const { db } = await open();
    const { send, enter, seasonId } = await smallMill(db);
    const fields = lotOf(seasonId);
    const lot = await enter('POST', '/lots', fields);
    const seen = await send('GET', `/lots/${lot.id}`);
    const etag = seen.headers.get('etag') ?? '';
    expect(etag).toMatch(/^"1\.[0-9a-f]{16}"$/);

    const minerals = [{ mineral: 'pyrite', massFrac: '0.7' }, fields.minerals[1]];
    const first = { ...fields, moistureFrac: '0.09', minerals, version: 1 };
    expect((await send('PUT', `/lots/${lot.id}`, first, { 'if-match': etag })).status).toBe(200);

    const later = await send('PUT', `/lots/${lot.id}`, { ...fields, wetMassKg: '210', version: 1 });
    expect(later.status).toBe(412);
    expect(later.headers.get('content-type')).toContain('application/problem+json');
    expect(later.body).toMatchObject({ type: '/problems/changed-since', status: 412 });
    expect(later.body.changes).toEqual([
      {
        at: expect.stringMatching(/^\d{4}-\d\d-\d\dT.*Z$/),
        actor: 'Owner',
        fields: [
          { pointer: '/moistureFrac', label: 'Moisture, fraction', from: '0.08', to: '0.09' },
          {
            pointer: '/lotMineral/pyrite/massFrac',
            label: 'Lot mineral pyrite: Mass, fraction',
            from: '0.6',
            to: '0.7',
          },
        ],
      },
    ]);
    const byHeader = await send('PUT', `/lots/${lot.id}`, { ...fields, version: 2 }, { 'if-match': etag });
    expect(byHeader).toMatchObject({ status: 412, body: { changes: [{ actor: 'Owner' }] } });
    expect((await send('GET', `/lots/${lot.id}`)).body).toMatchObject({ moistureFrac: '0.09', version: 2 });
  });

  it('must be named where a record is removed, and nothing is removed that changed meanwhile', async () => {
    const { db } = await open();
    const { enter, send, seasonId } = await smallMill(db);
    const lot = await enter('POST', '/lots', lotOf(seasonId));
    const changed = await enter('PUT', `/lots/${lot.id}`, { ...lotOf(seasonId), remarks: 'wet', version: 1 });
    const path = `/lots/${lot.id}`;
    expect(await send('DELETE', path, undefined, { 'if-match': '' })).toMatchObject({ status: 412 });
    expect(await send('DELETE', path, undefined, { 'if-match': '"1"' })).toMatchObject({
      status: 412,
      body: { changes: [{ fields: [{ pointer: '/remarks', from: null, to: 'wet' }] }] },
    });
    const app = (await import('../../api/app.ts')).createApp({
      db,
      now: () => new Date('2026-09-01T12:00:00Z'),
    });
    expect((await app.request(`/api${path}`, { method: 'DELETE' })).status).toBe(428);
    expect((await send('GET', path)).status).toBe(200);
    expect((await send('DELETE', path, undefined, { 'if-match': `"${changed.version}"` })).status).toBe(204);
  });

  it('of the settings is told in the same way', async () => {
    const { db } = await open();
    const { enter, send } = await smallMill(db);
    const mill = await enter('GET', '/mill');
    await enter('PUT', '/mill', { ...mill, paper: 'Letter' });
    const later = await send('PUT', '/mill', { ...mill, name: 'Other name' });
    expect(later).toMatchObject({
      status: 412,
      body: { changes: [{ fields: [{ pointer: '/paper', label: 'Paper', from: 'A4', to: 'Letter' }] }] },
    });
    expect((await send('GET', '/mill')).headers.get('etag')).toMatch(/^"\d+\.[0-9a-f]{16}"$/);
  });
});
