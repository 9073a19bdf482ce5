import type {
  BracketLadder,
  Charge,
  Credit,
  Escalator,
  Ladder,
  MarginalLadder,
  Penalty,
  Royalty,
  TaxTerms,
} from '../../../api/calc/terms/charge-terms.ts';
import type { FigureReader } from '../../lib/typed-figures.ts';
import type {
  BracketDraft,
  ChargeDraft,
  CreditDraft,
  EscalatorDraft,
  LadderDraft,
  PenaltyDraft,
  RoyaltyDraft,
  StepBandDraft,
  TaxDraft,
} from './terms-draft.ts';

const bandsOf = (bands: StepBandDraft[], at: string, read: FigureReader): MarginalLadder['bands'] =>
  bands.map(({ from, step, rate }, index) => ({
    from: read.decimal(from, `${at}/${index}/from`),
    step: read.decimal(step, `${at}/${index}/step`),
    rate: read.decimal(rate, `${at}/${index}/rate`),
  }));

const bracketsOf = (brackets: BracketDraft[], at: string, read: FigureReader): BracketLadder => ({
  kind: 'bracket',
  brackets: read.some(brackets, at).map(({ from, reachedAt, rate }, index) => ({
    from: read.decimal(from, `${at}/${index}/from`),
    reachedAt,
    rate: read.decimal(rate, `${at}/${index}/rate`),
  })),
});

function ladderOf(ladder: LadderDraft, at: string, read: FigureReader): Ladder {
  if (ladder.kind === 'bracket') return bracketsOf(ladder.brackets, `${at}/brackets`, read);
  return {
    kind: ladder.kind,
    counting: ladder.counting,
    bands: bandsOf(read.some(ladder.bands, `${at}/bands`), `${at}/bands`, read),
  };
}

export function escalatorOf(escalator: EscalatorDraft, at: string, read: FigureReader): Escalator {
  const { up, down } = escalator;
  return {
    metal: read.needed(escalator.metal, `${at}/metal`),
    up:
      up.bands.length === 0
        ? null
        : { kind: 'marginal', counting: up.counting, bands: bandsOf(up.bands, `${at}/up/bands`, read) },
    down:
      down.bands.length === 0
        ? null
        : {
            kind: 'shortfall',
            counting: down.counting,
            bands: bandsOf(down.bands, `${at}/down/bands`, read),
          },
    maximumIncrease: read.optional(escalator.maximumIncrease, `${at}/maximumIncrease`),
    maximumDecrease: read.optional(escalator.maximumDecrease, `${at}/maximumDecrease`),
  };
}

export function chargeOf(charge: ChargeDraft, at: string, read: FigureReader): Charge {
  const { kind, purpose, basis, unit } = charge;
  const head = {
    purpose,
    name: read.needed(charge.name, `${at}/name`),
    currency: charge.currency === '' ? null : charge.currency,
  };
  switch (kind) {
    case 'per-mass':
      return {
        ...head,
        kind,
        rate: read.decimal(charge.rate, `${at}/rate`),
        basis,
        unit,
        minimum: read.optional(charge.minimum, `${at}/minimum`),
        escalators: charge.escalators.map((escalator, index) =>
          escalatorOf(escalator, `${at}/escalators/${index}`, read),
        ),
      };
    case 'flat': {
      const mass = read.optional(charge.onlyBelow.mass, `${at}/onlyBelow/mass`);
      return {
        ...head,
        kind,
        amount: read.decimal(charge.amount, `${at}/amount`),
        per: charge.per,
        onlyBelow: mass === null ? null : { ...charge.onlyBelow, mass },
      };
    }
    case 'per-started-lot':
      return {
        ...head,
        kind,
        amount: read.decimal(charge.amount, `${at}/amount`),
        basis,
        unit,
        mass: read.decimal(charge.mass, `${at}/mass`),
      };
    case 'by-value':
      return {
        ...head,
        kind,
        brackets: bracketsOf(charge.brackets.brackets, `${at}/brackets/brackets`, read),
        basis,
        unit,
      };
    case 'by-level': {
      const { level } = charge;
      return {
        ...head,
        kind,
        level:
          level.kind === 'price'
            ? { kind: 'price', metal: read.needed(level.metal, `${at}/level/metal`) }
            : level.kind === 'mass'
              ? { kind: 'mass', basis: level.basis, unit: level.massUnit }
              : {
                  kind: 'grade',
                  elements: read.some(level.elements, `${at}/level/elements`),
                  unit: level.unit,
                },
        ladder: ladderOf(charge.ladder, `${at}/ladder`, read),
        basis,
        unit,
        minimum: read.optional(charge.minimum, `${at}/minimum`),
      };
    }
    case 'share-of-value':
      return {
        ...head,
        kind,
        shareFrac: read.percent(charge.shareFrac, `${at}/shareFrac`),
        ofFrac: read.percent(charge.ofFrac, `${at}/ofFrac`),
        minimum: read.optional(charge.minimum, `${at}/minimum`),
      };
  }
}

export const penaltyOf = (penalty: PenaltyDraft, at: string, read: FigureReader): Penalty => ({
  name: read.needed(penalty.name, `${at}/name`),
  elements: read.some(penalty.elements, `${at}/elements`),
  unit: penalty.unit,
  ladder: ladderOf(penalty.ladder, `${at}/ladder`, read),
  basis: penalty.basis,
  massUnit: penalty.massUnit,
  refusedAbove: read.optional(penalty.refusedAbove, `${at}/refusedAbove`),
});

export function creditOf(credit: CreditDraft, at: string, read: FigureReader): Credit {
  const { kind, unit, basis, massUnit } = credit;
  const name = read.needed(credit.name, `${at}/name`);
  switch (kind) {
    case 'component':
      return {
        kind,
        name,
        elements: read.some(credit.elements, `${at}/elements`),
        unit,
        ladder: ladderOf(credit.ladder, `${at}/ladder`, read),
        basis,
        massUnit,
      };
    case 'per-mass':
      return { kind, name, rate: read.decimal(credit.rate, `${at}/rate`), basis, massUnit };
    case 'assay-value':
      return {
        kind,
        name,
        metals: read.some(credit.metals, `${at}/metals`),
        above: read.decimal(credit.above, `${at}/above`),
        shareFrac: read.percent(credit.shareFrac, `${at}/shareFrac`),
        massUnit,
      };
  }
}

function baseOf({ base }: RoyaltyDraft, at: string, read: FigureReader): Royalty['base'] {
  if (base.kind !== 'own-price') return { kind: base.kind };
  return {
    kind: 'own-price',
    metals: read.some(base.metals, `${at}/metals`).map(({ metal, mass, price }, index) => ({
      metal: read.needed(metal, `${at}/metals/${index}/metal`),
      mass,
      price: read.optional(price, `${at}/metals/${index}/price`),
    })),
  };
}

function rateOf({ rate }: RoyaltyDraft, at: string, read: FigureReader): Royalty['rate'] {
  const levels = (list: { from: string; rateFrac: string }[], name: string) =>
    read.some(list, `${at}/${name}`).map(({ from, rateFrac }, index) => ({
      from: read.decimal(from, `${at}/${name}/${index}/from`),
      rateFrac: read.percent(rateFrac, `${at}/${name}/${index}/rateFrac`),
    }));
  switch (rate.kind) {
    case 'flat':
      return { kind: 'flat', rateFrac: read.percent(rate.rateFrac, `${at}/rateFrac`) };
    case 'bands':
      return { kind: 'bands', bands: levels(rate.bands, 'bands') };
    case 'price-steps':
      return {
        kind: 'price-steps',
        metal: read.needed(rate.metal, `${at}/metal`),
        steps: levels(rate.steps, 'steps'),
      };
  }
}

export const royaltyOf = (royalty: RoyaltyDraft, at: string, read: FigureReader): Royalty => ({
  name: read.needed(royalty.name, `${at}/name`),
  kind: royalty.kind,
  base: baseOf(royalty, `${at}/base`, read),
  rate: rateOf(royalty, `${at}/rate`, read),
  exemption: read.optional(royalty.exemption, `${at}/exemption`),
  paidBy: royalty.paidBy,
  payees: royalty.payees.map(({ name, share }, index) => ({
    name: read.needed(name, `${at}/payees/${index}/name`),
    share: read.decimal(share, `${at}/payees/${index}/share`),
  })),
});

export const taxOf = (tax: TaxDraft, at: string, read: FigureReader): TaxTerms => ({
  name: read.needed(tax.name, `${at}/name`),
  rateFrac: read.percent(tax.rateFrac, `${at}/rateFrac`),
  base: tax.base.kind === 'charges' ? { ...tax.base, kind: 'charges' } : { kind: tax.base.kind },
  effect: tax.effect,
  isPassedOn: tax.isPassedOn,
});
