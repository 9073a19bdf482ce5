import type {
  Charge,
  Credit,
  Ladder,
  MarginalLadder,
  Royalty,
  TaxTerms,
} from '../../../api/calc/terms/charge-terms.ts';
import type { SettlementStage } from '../../../api/calc/terms/terms.ts';
import { choices } from './choices.ts';

export const chargeKinds = choices<Charge['kind']>({
  'per-mass': 'A rate per unit of mass',
  flat: 'A fixed amount',
  'per-started-lot': 'An amount for every started lot',
  'share-of-value': 'A share of the payable value',
  'by-value': 'A rate per mass, by the value',
  'by-level': 'A rate per mass that goes by a level',
});

export const purposes = choices<Charge['purpose']>({
  treatment: 'Treatment',
  refining: 'Refining',
  lot: 'Lot charge',
  sampling: 'Sampling',
  assaying: 'Assaying',
  representation: 'Representation',
  freight: 'Freight',
  insurance: 'Insurance',
  handling: 'Handling',
  other: 'Other',
});

export const countings = choices<MarginalLadder['counting']>({
  'pro-rata': 'Fractions in proportion',
  'whole-steps': 'Whole steps only',
  'started-steps': 'A started step counts whole',
});

export const ladders = choices<Ladder['kind']>({
  marginal: 'So much for every step above a level',
  shortfall: 'So much for every step below a level',
  bracket: 'One rate by the bracket reached',
});

export const reached = choices<'level' | 'above'>({ level: 'From this level', above: 'Only above it' });

export const creditKinds = choices<Credit['kind']>({
  component: 'For a component, by its assay',
  'per-mass': 'So much per unit of mass',
  'assay-value': 'A share of the value above a level',
});

export const royaltyKinds = choices<Royalty['kind']>({
  royalty: 'Royalty',
  'production-tax': 'Production tax',
});

export const royaltyBases = choices<Royalty['base']['kind']>({
  'net-smelter-return': 'Net smelter return',
  'gross-value': 'Gross value',
  'own-price': 'Metal at the royalty’s own price',
});

export const royaltyRates = choices<Royalty['rate']['kind']>({
  flat: 'One rate',
  bands: 'Bands of the base',
  'price-steps': 'One rate by the price of a metal',
});

export const payers = choices<Royalty['paidBy']>({
  'buyer-withholds': 'Withheld by the buyer',
  'seller-pays': 'Paid by the seller, only shown',
});

export const stages = choices<SettlementStage>({
  provisional: 'Provisional',
  'second-provisional': 'Second provisional',
  final: 'Final',
});

export const advanceBases = choices<'net-value' | 'payable-value'>({
  'net-value': 'The net value',
  'payable-value': 'The payable value',
});

export const dayCounts = choices<'ACT/360' | 'ACT/365' | '30/360'>({
  'ACT/360': 'Actual days over 360',
  'ACT/365': 'Actual days over 365',
  '30/360': '30 days a month over 360',
});

export const taxBases = choices<TaxTerms['base']['kind']>({
  'net-value': 'The net value',
  'payable-value': 'The payable value',
  charges: 'The charges',
});

export const taxEffects = choices<TaxTerms['effect']>({
  added: 'Added to what is paid',
  deducted: 'Taken off what is paid',
});
