import type {
  BracketLadder,
  Charge,
  Credit,
  Escalator,
  Ladder,
  MarginalLadder,
  Penalty,
  Royalty,
  ShortfallLadder,
  TaxTerms,
} from '../../../api/calc/terms/charge-terms.ts';
import type { FigureWriter } from '../../lib/typed-figures.ts';
import type {
  BracketDraft,
  ChargeDraft,
  CreditDraft,
  EscalatorDraft,
  EscalatorSideDraft,
  LadderDraft,
  PenaltyDraft,
  RoyaltyDraft,
  StepBandDraft,
  TaxDraft,
} from './terms-draft.ts';

export const emptyBand: StepBandDraft = { from: '', step: '', rate: '' };
export const emptyBracket: BracketDraft = { from: '', reachedAt: 'level', rate: '' };

const emptyLadder: LadderDraft = {
  kind: 'marginal',
  counting: 'pro-rata',
  bands: [emptyBand],
  brackets: [emptyBracket],
};

const bandsDraft = (bands: MarginalLadder['bands'], write: FigureWriter): StepBandDraft[] =>
  bands.map(({ from, step, rate }) => ({
    from: write.text(from),
    step: write.text(step),
    rate: write.text(rate),
  }));

const bracketsDraft = ({ brackets }: BracketLadder, write: FigureWriter): BracketDraft[] =>
  brackets.map(({ from, reachedAt, rate }) => ({
    from: write.text(from),
    reachedAt,
    rate: write.text(rate),
  }));

function ladderDraft(ladder: Ladder, write: FigureWriter): LadderDraft {
  return ladder.kind === 'bracket'
    ? { kind: 'bracket', counting: 'pro-rata', bands: [emptyBand], brackets: bracketsDraft(ladder, write) }
    : {
        kind: ladder.kind,
        counting: ladder.counting,
        bands: bandsDraft(ladder.bands, write),
        brackets: [emptyBracket],
      };
}

const sideDraft = (side: MarginalLadder | ShortfallLadder | null, write: FigureWriter): EscalatorSideDraft =>
  side === null
    ? { counting: 'pro-rata', bands: [] }
    : { counting: side.counting, bands: bandsDraft(side.bands, write) };

export const escalatorDraft = (escalator: Escalator, write: FigureWriter): EscalatorDraft => ({
  metal: escalator.metal,
  up: sideDraft(escalator.up, write),
  down: sideDraft(escalator.down, write),
  maximumIncrease: write.text(escalator.maximumIncrease),
  maximumDecrease: write.text(escalator.maximumDecrease),
});

export function chargeDraft(charge: Charge, write: FigureWriter): ChargeDraft {
  const draft: ChargeDraft = {
    kind: charge.kind,
    purpose: charge.purpose,
    name: charge.name,
    currency: charge.currency ?? '',
    rate: '',
    amount: '',
    basis: 'settlement',
    unit: 'tonne',
    minimum: '',
    per: 'parcel',
    onlyBelow: { basis: 'settlement', unit: 'tonne', mass: '' },
    mass: '',
    brackets: { brackets: [emptyBracket] },
    level: {
      kind: 'grade',
      elements: [],
      unit: 'g/t',
      metal: '',
      basis: 'settlement',
      massUnit: 'tonne',
    },
    ladder: emptyLadder,
    shareFrac: '',
    ofFrac: '100',
    escalators: [],
  };
  switch (charge.kind) {
    case 'per-mass':
      return {
        ...draft,
        rate: write.text(charge.rate),
        basis: charge.basis,
        unit: charge.unit,
        minimum: write.text(charge.minimum),
        escalators: charge.escalators.map((escalator) => escalatorDraft(escalator, write)),
      };
    case 'flat':
      return {
        ...draft,
        amount: write.text(charge.amount),
        per: charge.per,
        onlyBelow:
          charge.onlyBelow === null
            ? draft.onlyBelow
            : { ...charge.onlyBelow, mass: write.text(charge.onlyBelow.mass) },
      };
    case 'per-started-lot':
      return {
        ...draft,
        amount: write.text(charge.amount),
        basis: charge.basis,
        unit: charge.unit,
        mass: write.text(charge.mass),
      };
    case 'by-value':
      return {
        ...draft,
        brackets: { brackets: bracketsDraft(charge.brackets, write) },
        basis: charge.basis,
        unit: charge.unit,
      };
    case 'by-level': {
      const { level } = charge;
      return {
        ...draft,
        level:
          level.kind === 'price'
            ? { ...draft.level, kind: 'price', metal: level.metal }
            : level.kind === 'mass'
              ? { ...draft.level, kind: 'mass', basis: level.basis, massUnit: level.unit }
              : { ...draft.level, ...level },
        ladder: ladderDraft(charge.ladder, write),
        basis: charge.basis,
        unit: charge.unit,
        minimum: write.text(charge.minimum),
      };
    }
    case 'share-of-value':
      return {
        ...draft,
        shareFrac: write.percent(charge.shareFrac),
        ofFrac: write.percent(charge.ofFrac),
        minimum: write.text(charge.minimum),
      };
  }
}

export const penaltyDraft = (penalty: Penalty, write: FigureWriter): PenaltyDraft => ({
  ...penalty,
  ladder: ladderDraft(penalty.ladder, write),
  refusedAbove: write.text(penalty.refusedAbove),
});

export function creditDraft(credit: Credit, write: FigureWriter): CreditDraft {
  const draft: CreditDraft = {
    kind: credit.kind,
    name: credit.name,
    elements: [],
    unit: 'percent',
    ladder: emptyLadder,
    basis: 'settlement',
    massUnit: credit.massUnit,
    rate: '',
    metals: [],
    above: '',
    shareFrac: '',
  };
  switch (credit.kind) {
    case 'component':
      return {
        ...draft,
        elements: credit.elements,
        unit: credit.unit,
        ladder: ladderDraft(credit.ladder, write),
        basis: credit.basis,
      };
    case 'per-mass':
      return { ...draft, rate: write.text(credit.rate), basis: credit.basis };
    case 'assay-value':
      return {
        ...draft,
        metals: credit.metals,
        above: write.text(credit.above),
        shareFrac: write.percent(credit.shareFrac),
      };
  }
}

export function royaltyDraft(royalty: Royalty, write: FigureWriter): RoyaltyDraft {
  const { base, rate } = royalty;
  const levels = (list: { from: string; rateFrac: string }[]) =>
    list.map(({ from, rateFrac }) => ({ from: write.text(from), rateFrac: write.percent(rateFrac) }));
  const emptyLevel = [{ from: '', rateFrac: '' }];
  return {
    name: royalty.name,
    kind: royalty.kind,
    base: {
      kind: base.kind,
      metals:
        base.kind === 'own-price'
          ? base.metals.map(({ metal, mass, price }) => ({ metal, mass, price: write.text(price) }))
          : [{ metal: '', mass: 'payable', price: '' }],
    },
    rate: {
      kind: rate.kind,
      rateFrac: rate.kind === 'flat' ? write.percent(rate.rateFrac) : '',
      bands: rate.kind === 'bands' ? levels(rate.bands) : emptyLevel,
      metal: rate.kind === 'price-steps' ? rate.metal : '',
      steps: rate.kind === 'price-steps' ? levels(rate.steps) : emptyLevel,
    },
    exemption: write.text(royalty.exemption),
    paidBy: royalty.paidBy,
    payees: royalty.payees.map(({ name, share }) => ({ name, share: write.text(share) })),
  };
}

export const taxDraft = (tax: TaxTerms, write: FigureWriter): TaxDraft => ({
  name: tax.name,
  rateFrac: write.percent(tax.rateFrac),
  base: { kind: tax.base.kind, purposes: tax.base.kind === 'charges' ? tax.base.purposes : [] },
  effect: tax.effect,
  isPassedOn: tax.isPassedOn,
});
