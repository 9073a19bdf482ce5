export type Where = 'in-stock' | 'under-way' | 'at-buyer' | 'settled' | 'worked-up-again' | 'written-off';

/** What became of a product, as the books have it; dates ISO. */
export interface ProductStory {
  madeOn: string;
  /** Whether anything of it is left after what was worked up again and written off. */
  isUsedUp: boolean;
  /** Last days on which some of it was worked up again, and written off. */
  workedUpOn: string | null;
  writtenOffOn: string | null;
  shipment: { code: string; shippedOn: string; arrivedOn: string | null } | null;
  /** Issued, oldest first, with the days that they state. */
  statements: {
    number: string;
    stage: string;
    issuedOn: string;
    shippedOn: string | null;
    arrivedOn: string | null;
  }[];
}

export interface Whereabouts {
  where: Where;
  since: string;
  /** Shipment or statement that says so; null: neither. */
  by: string | null;
}

/**
 * Where a product is: used up, settled for good (a final statement), with the buyer, on the way, or in stock. A
 * statement before the final one means that the buyer has it, even where no shipment was entered.
 */
export function whereabouts(story: ProductStory): Whereabouts {
  const { shipment, statements, workedUpOn, writtenOffOn } = story;
  if (story.isUsedUp && (workedUpOn ?? writtenOffOn) !== null) {
    return workedUpOn !== null && workedUpOn >= (writtenOffOn ?? '')
      ? { where: 'worked-up-again', since: workedUpOn, by: null }
      : { where: 'written-off', since: writtenOffOn ?? '', by: null };
  }
  const final = statements.find(({ stage }) => stage === 'final' || stage === 'adjustment');
  if (final !== undefined) return { where: 'settled', since: final.issuedOn, by: final.number };
  const [first] = statements;
  const arrivedOn = shipment?.arrivedOn ?? first?.arrivedOn ?? null;
  const by = shipment?.code ?? first?.number ?? null;
  if (arrivedOn !== null) return { where: 'at-buyer', since: arrivedOn, by };
  if (first !== undefined)
    return { where: 'at-buyer', since: shipment?.shippedOn ?? first.shippedOn ?? first.issuedOn, by };
  if (shipment !== null) return { where: 'under-way', since: shipment.shippedOn, by };
  return { where: 'in-stock', since: story.madeOn, by: null };
}
