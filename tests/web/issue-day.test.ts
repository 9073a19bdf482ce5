import { describe, expect, it } from 'vitest';
import { otherDaySentence, usualIssueDay } from '../../web/pages/settlements/issue-day.ts';

describe('the day a draft is issued on', () => {
  it('is the day it was drawn up on, but never one still to come', () => {
    expect(usualIssueDay('2031-09-22', '2031-11-25')).toBe('2031-09-22');
    expect(usualIssueDay('2031-11-26', '2031-11-25')).toBe('2031-11-25');
    expect(usualIssueDay(null, '2031-11-25')).toBe('2031-11-25');
  });

  it('is spoken of where it differs from that day', () => {
    const said = (drawnUpOn: string | null, issuedOn: string) =>
      otherDaySentence({ drawnUpOn, issuedOn }, (day) => `day ${day}`);
    expect(said('2031-09-22', '2031-11-25')).toBe(
      'The draft was drawn up on day 2031-09-22, but it will be issued as of day 2031-11-25.',
    );
    expect(said('2031-09-22', '2031-09-22')).toBeNull();
    expect(said(null, '2031-11-25')).toBeNull();
    expect(said('2031-09-22', '')).toBeNull();
  });
});
