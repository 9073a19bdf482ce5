import type { Mineral } from './minerals.ts';
import type { Reaction } from './reaction.ts';

/**
 * What each mineral becomes in a dead roast with air, per mole of mineral; null: it does not change. Iron
 * goes to Fe2O3, copper to CuO, zinc to ZnO, lead to PbO; arsenic leaves as As2O3 fume; antimony is taken to
 * stay as Sb2O4, though above a dull red part of it leaves as Sb2O3 fume. The minerals are the ideal ones.
 * Common practice, as in C. and J. J. Beringer, *A Text-book of Assaying*, 9th ed. 1904, on calcining.
 */
export const roastReactions: Readonly<Record<Mineral, Reaction | null>> = {
  pyrite: { takes: { pyrite: 1, O2: 2.75 }, gives: { Fe2O3: 0.5, SO2: 2 } },
  pyrrhotite: { takes: { pyrrhotite: 1, O2: 1.75 }, gives: { Fe2O3: 0.5, SO2: 1 } },
  chalcopyrite: { takes: { chalcopyrite: 1, O2: 3.25 }, gives: { CuO: 1, Fe2O3: 0.5, SO2: 2 } },
  galena: { takes: { galena: 1, O2: 1.5 }, gives: { PbO: 1, SO2: 1 } },
  sphalerite: { takes: { sphalerite: 1, O2: 1.5 }, gives: { ZnO: 1, SO2: 1 } },
  arsenopyrite: { takes: { arsenopyrite: 1, O2: 2.5 }, gives: { Fe2O3: 0.5, As2O3: 0.5, SO2: 1 } },
  stibnite: { takes: { stibnite: 1, O2: 5 }, gives: { Sb2O4: 1, SO2: 3 } },
  chalcocite: { takes: { chalcocite: 1, O2: 2 }, gives: { CuO: 2, SO2: 1 } },
  magnetite: { takes: { magnetite: 1, O2: 0.25 }, gives: { Fe2O3: 1.5 } },
  hematite: null,
  quartz: null,
};

/** Galena may instead take up oxygen and keep its sulfur; at a dull roast part of it does. */
export const galenaToSulfate: Reaction = { takes: { galena: 1, O2: 2 }, gives: { PbSO4: 1 } };
