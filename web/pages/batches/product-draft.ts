import type { z } from 'zod';
import type { newProduct, Product } from '../../../api/schemas/batch.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { decimalOf, editableText, shiftPoint } from '../../lib/parse-decimal.ts';
import { shownText, storedOf } from '../../lib/quantities.ts';

/** A product as it is typed, named as the fields that are sent: metal in parts of a thousand, the rest by its grade. */
export interface ProductDraft {
  code: string;
  kind: Product['kind'];
  madeOn: string;
  massKg: string;
  massStandardUncertaintyKg: string;
  goldFinenessFrac: string;
  goldStandardUncertaintyFrac: string;
  silverFinenessFrac: string;
  silverStandardUncertaintyFrac: string;
  remarks: string;
}

/** Bars and beads are weighed in grams and assayed by fineness; the rest like a lot. */
export const isMetal = (kind: Product['kind']): boolean => kind === 'bar' || kind === 'bead';

/** A fraction of a million is 1 g/t. */
const GPT_PLACES = 6;

export const emptyProductDraft = (fields: Pick<ProductDraft, 'code' | 'kind' | 'madeOn'>): ProductDraft => ({
  ...fields,
  massKg: '',
  massStandardUncertaintyKg: '',
  goldFinenessFrac: '',
  goldStandardUncertaintyFrac: '',
  silverFinenessFrac: '',
  silverStandardUncertaintyFrac: '',
  remarks: '',
});

export function productDraftOf(product: Product, owner: OwnerChoices): ProductDraft {
  const metal = isMetal(product.kind);
  const mass = (kg: string | null): string =>
    kg === null
      ? ''
      : metal
        ? shownText('metalMassG', shiftPoint(kg, 3), owner)
        : shownText('lotMassKg', kg, owner);
  const content = (frac: string | null): string => {
    if (frac === null) return '';
    return metal
      ? editableText(shiftPoint(frac, 3), owner)
      : shownText('gradeGpt', shiftPoint(frac, GPT_PLACES), owner);
  };
  return {
    code: product.code,
    kind: product.kind,
    madeOn: product.madeOn,
    massKg: mass(product.massKg),
    massStandardUncertaintyKg: mass(product.massStandardUncertaintyKg),
    goldFinenessFrac: content(product.goldFinenessFrac),
    goldStandardUncertaintyFrac: content(product.goldStandardUncertaintyFrac),
    silverFinenessFrac: content(product.silverFinenessFrac),
    silverStandardUncertaintyFrac: content(product.silverStandardUncertaintyFrac),
    remarks: product.remarks,
  };
}

/** What is sent; only for a draft whose fields have been accepted. */
export function productFromDraft(draft: ProductDraft, owner: OwnerChoices): z.input<typeof newProduct> {
  const metal = isMetal(draft.kind);
  const mass = (typed: string): string | null => {
    const stored = storedOf(metal ? 'metalMassG' : 'lotMassKg', typed, owner);
    return stored === null || !metal ? stored : shiftPoint(stored, -3);
  };
  const content = (typed: string): string | null => {
    const stored = metal ? decimalOf(typed, owner) : storedOf('gradeGpt', typed, owner);
    return stored === null ? null : shiftPoint(stored, metal ? -3 : -GPT_PLACES);
  };
  return {
    code: draft.code,
    kind: draft.kind,
    madeOn: draft.madeOn,
    massKg: mass(draft.massKg) ?? '',
    massStandardUncertaintyKg: mass(draft.massStandardUncertaintyKg),
    goldFinenessFrac: content(draft.goldFinenessFrac),
    goldStandardUncertaintyFrac: content(draft.goldStandardUncertaintyFrac),
    silverFinenessFrac: content(draft.silverFinenessFrac),
    silverStandardUncertaintyFrac: content(draft.silverStandardUncertaintyFrac),
    remarks: draft.remarks,
  };
}
