/** A lot that a new lot is made from, with the dry mass that is taken of it. */
export interface LotPart {
  lotId: string;
  dryMassKg: string;
}

/** The lots that a new lot is made from as its address names them: "id:kg;id:kg". */
export const writeParts = (parts: readonly LotPart[]): string =>
  parts.map(({ lotId, dryMassKg }) => `${lotId}:${dryMassKg}`).join(';');

/** What `writeParts` writes; whatever else an address says is left out. */
export function readParts(written: string): LotPart[] {
  return written.split(';').flatMap((one) => {
    const [, lotId, dryMassKg] = /^([0-9a-f-]{36}):(\d+(?:\.\d+)?)$/.exec(one) ?? [];
    return lotId === undefined || dryMassKg === undefined ? [] : [{ lotId, dryMassKg }];
  });
}
