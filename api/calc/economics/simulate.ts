import type { Finding } from '../finding.ts';
import type { CostDraws } from './cost-draws.ts';
import { drawCosts } from './cost-draws.ts';
import { sumOfDraws } from '../statistics/draws.ts';
import type { DecideInput, DecisionOption } from './options.ts';
import { usableOptions } from './options.ts';
import type { PaymentDraws } from './payment-draws.ts';
import { drawPayment } from './payment-draws.ts';
import type { SharedDraws } from './shared-draws.ts';
import { shareDraws } from './shared-draws.ts';

/** What one option brings, draw by draw; draw n of every option rests on the same lot and the same prices. */
export interface OptionDraws {
  option: DecisionOption;
  netValue: Float64Array;
  payment: Omit<PaymentDraws, 'netPayment'>;
  costs: Omit<CostDraws, 'netCost'>;
}

/** Takes the owner's costs off what the buyer pays, in place. */
function takeOff(netCost: Float64Array | null, meanNetCost: number, from: Float64Array): Float64Array {
  if (netCost === null) for (let n = 0; n < from.length; n++) from[n]! -= meanNetCost;
  else for (let n = 0; n < from.length; n++) from[n]! -= netCost[n]!;
  return from;
}

/**
 * Net value of each option, draw by draw:
 *
 * in-house: payment for the bar − buyer's charges − the owner's costs, the bar
 * holding lot × grade × recovery of each metal at the doré's fineness;
 * sale: payment on the buyer's assay (true grade, lognormal around it) − his charges − the owner's costs.
 *
 * The same lot and price draws serve every option (common random numbers), and
 * every other uncertain input has its own stream, so that an option's draws do
 * not depend on which others are compared.
 */
export function simulate(
  input: DecideInput,
  options: DecisionOption[],
  shared: SharedDraws = shareDraws(input),
): OptionDraws[] {
  // One treatment after the other, so that its bar and its costs are worked once for all its buyers.
  const wayOf = (option: DecisionOption) => (option.kind === 'in-house' ? option.treatmentId : '');
  const drawn = new Map(
    options
      .toSorted((a, b) => wayOf(a).localeCompare(wayOf(b)))
      .map((option): [DecisionOption, OptionDraws] => {
        const { netPayment, ...payment } = drawPayment(input, option, shared);
        const { netCost, ...costs } = drawCosts(input, option, shared);
        return [
          option,
          { option, netValue: takeOff(netCost, costs.meanNetCost, netPayment), payment, costs },
        ];
      }),
  );
  return options.map((option) => drawn.get(option)!);
}

/** A decision with all its draws: what the ranking, the drivers and the value of information are worked from. */
export interface DrawnDecision {
  input: DecideInput;
  shared: SharedDraws;
  /** The options that can be worked out, in the order given. */
  options: OptionDraws[];
  /** What is left out, and why. */
  findings: Finding[];
}

function notWorkedOut(input: DecideInput, option: DecisionOption): Finding {
  return {
    code: 'terms-need-more',
    level: 'blocker',
    path: `/options/${input.options.indexOf(option)}`,
    sentence: `“${option.name}” is left out: its buyer's terms ask for an assay or a price that is not given.`,
  };
}

/** Draws every option that can be worked out (`simulate`); the others are left out, with a finding. */
export function drawDecision(input: DecideInput): DrawnDecision {
  const { options, findings } = usableOptions(input);
  const shared = shareDraws(input);
  const drawn = simulate(input, options, shared).filter(({ option, netValue }) => {
    // A draw that could not be worked out makes the sum not a number.
    const worked = Number.isFinite(sumOfDraws(netValue));
    if (!worked) findings.push(notWorkedOut(input, option));
    return worked;
  });
  return { input, shared, options: drawn, findings };
}
