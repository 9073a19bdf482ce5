/** The day that a draft is issued on unless another is chosen: its own, but never one still to come. */
export function usualIssueDay(drawnUpOn: string | null, today: string): string {
  return drawnUpOn === null || drawnUpOn > today ? today : drawnUpOn;
}

/** What is said before a statement is issued on another day than it was drawn up on; null where the two are one. */
export function otherDaySentence(
  days: { drawnUpOn: string | null; issuedOn: string },
  date: (isoDate: string) => string,
): string | null {
  const { drawnUpOn, issuedOn } = days;
  if (drawnUpOn === null || issuedOn === '' || issuedOn === drawnUpOn) return null;
  return `The draft was drawn up on ${date(drawnUpOn)}, but it will be issued as of ${date(issuedOn)}.`;
}
