/** Another lot of a blend: its id and the mass of it as typed; '' takes all that is left. */
export interface OtherLot {
  lotId: string;
  mass: string;
}

/** The other lots of a blend as the address holds them: "id:mass;id:mass". */
export function readOthers(written: string): OtherLot[] {
  if (written === '') return [];
  return written.split(';').map((one) => {
    const [lotId = '', ...mass] = one.split(':');
    return { lotId, mass: mass.join(':') };
  });
}

/** What `readOthers` reads. */
export function writeOthers(others: readonly OtherLot[]): string {
  return others.map(({ lotId, mass }) => `${lotId}:${mass.replaceAll(/[:;]/g, '')}`).join(';');
}
