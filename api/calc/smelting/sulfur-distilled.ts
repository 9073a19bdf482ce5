import type { Mineral, MineralShare } from './minerals.ts';
import type { Reaction } from './reaction.ts';
import { gramsPerGram } from './reaction.ts';

/**
 * Sulfides that give off part of their sulfur as vapour when heated out of contact with air, before they melt:
 * pyrite half of it, leaving pyrrhotite (S. K. Bhargava, A. Garg and N. D. Subasinghe, Fuel 88 (2009)
 * 988-993), chalcopyrite a quarter, leaving Cu2S and FeS (common practice). The others keep theirs.
 */
export const heatingReactions: Readonly<Partial<Record<Mineral, Reaction>>> = {
  pyrite: { takes: { pyrite: 1 }, gives: { FeS: 1, S: 1 } },
  chalcopyrite: { takes: { chalcopyrite: 1 }, gives: { chalcocite: 0.5, FeS: 1, S: 0.5 } },
};

/** Sulfur that a lot gives off on heating without air, as a fraction of its mass: all pyrite gives 0.267. */
export function sulfurDistilledFrac({ minerals }: { minerals: readonly MineralShare[] }): number {
  return minerals.reduce((sum, { mineral, massFrac }) => {
    const reaction = heatingReactions[mineral];
    return reaction === undefined ? sum : sum + massFrac * gramsPerGram({ reaction, of: 'S', per: mineral });
  }, 0);
}
