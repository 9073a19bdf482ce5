import { sql } from 'kysely';
import { beforeAll, expect, it } from 'vitest';
import type { OpenDatabase } from '../../db/open.ts';
import { describeOnEveryEngine } from '../support/engines.ts';

describeOnEveryEngine('both engines', (open) => {
  let opened: OpenDatabase;
  beforeAll(async () => {
    opened = await open();
  });

  it('keep exact and calendar values as text, and parse jsonb', async () => {
    const { rows } = await sql`
      select date '2026-03-01' as day, 12345678901234567890.10::numeric as amount, 9007199254740993::int8 as big,
        timestamptz '2026-03-01 14:05:00.25+02' as at, '{"assay_no": [1, 2.5]}'::jsonb as facts,
        array[1.10, 2]::numeric[] as amounts, array[date '2026-03-01'] as days, array[9007199254740993] as bigs,
        1.5::float8 as estimate, 7::int4 as count, true as agreed, null::date as none`.execute(opened.db);
    expect(rows).toEqual([
      {
        day: '2026-03-01',
        amount: '12345678901234567890.10',
        big: '9007199254740993',
        at: '2026-03-01T12:05:00.25Z',
        facts: { assay_no: [1, 2.5] },
        amounts: ['1.10', '2'],
        days: ['2026-03-01'],
        bigs: ['9007199254740993'],
        estimate: 1.5,
        count: 7,
        agreed: true,
        none: null,
      },
    ]);
  });
});
