import { expect, it } from 'vitest';
import { findingNotices } from '../../reports/model/notices.ts';
import type { Report } from '../../reports/model/report.ts';
import { askAgainAfterMs } from '../../web/lib/ask-again.ts';

const reportSaying = (code: string): Report => ({
  title: '',
  subtitle: '',
  runningHead: '',
  demoNotice: null,
  language: 'en',
  blocks: findingNotices([{ code, level: 'note', path: '', sentence: 'Said.' }]),
});

it('asks again, ever more slowly, as long as a report says that it is not complete', () => {
  const waits = [1, 2, 3, 20].map((answers) =>
    askAgainAfterMs(reportSaying('grades-being-worked-out'), answers),
  );
  expect(waits).toEqual([1500, 2250, 3375, 15_000]);
  expect(askAgainAfterMs(reportSaying('anything-else'), 1)).toBe(false);
  expect(askAgainAfterMs(undefined, 0)).toBe(false);
});
