import type { OwnerChoices } from '../../lib/owner.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';
import { storedOf } from '../../lib/quantities.ts';
import type { LotPart } from '../lots/parts-address.ts';

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

/** A mass of a lot as it is booked, a decimal in kg: all that is left where none is typed; '' where it cannot be read. */
export function bookedMassKg(
  typed: string,
  lot: { leftKg: string } | undefined,
  owner: OwnerChoices,
): string {
  if (typed === '') return lot?.leftKg ?? '';
  return parseDecimal(typed, owner).ok ? (storedOf('lotMassKg', typed, owner) ?? '') : '';
}

/** The lots of a blend with the masses that are booked of them. */
export const bookedParts = (
  typed: readonly OtherLot[],
  lots: readonly { id: string; leftKg: string }[],
  owner: OwnerChoices,
): LotPart[] =>
  typed.map(({ lotId, mass }) => ({
    lotId,
    dryMassKg: bookedMassKg(
      mass,
      lots.find(({ id }) => id === lotId),
      owner,
    ),
  }));
