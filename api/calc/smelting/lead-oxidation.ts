import type { Mineral } from './minerals.ts';
import type { Reaction } from './reaction.ts';
import { gramsPerGram } from './reaction.ts';

/**
 * What a mineral reduces from litharge in the crucible, per mole of mineral. To SO2: little litharge, no
 * soda, iron ends as FeO, copper as Cu2O, arsenic and antimony as the trioxides. To sulfate: much litharge
 * and soda, iron ends as Fe2O3, copper as CuO, arsenic as As2O5, antimony as Sb2O4, sulfur as SO3 held by the
 * soda. Galena gives its own lead with the lead it reduces. Iron oxides take up lead instead.
 */
export const reductionToSulfurDioxide: Readonly<Record<Mineral, Reaction | null>> = {
  pyrite: { takes: { pyrite: 1, PbO: 5 }, gives: { FeO: 1, SO2: 2, Pb: 5 } },
  pyrrhotite: { takes: { pyrrhotite: 1, PbO: 3 }, gives: { FeO: 1, SO2: 1, Pb: 3 } },
  chalcopyrite: { takes: { chalcopyrite: 1, PbO: 5.5 }, gives: { Cu2O: 0.5, FeO: 1, SO2: 2, Pb: 5.5 } },
  galena: { takes: { galena: 1, PbO: 2 }, gives: { SO2: 1, Pb: 3 } },
  sphalerite: { takes: { sphalerite: 1, PbO: 3 }, gives: { ZnO: 1, SO2: 1, Pb: 3 } },
  arsenopyrite: { takes: { arsenopyrite: 1, PbO: 4.5 }, gives: { FeO: 1, As2O3: 0.5, SO2: 1, Pb: 4.5 } },
  stibnite: { takes: { stibnite: 1, PbO: 9 }, gives: { Sb2O3: 1, SO2: 3, Pb: 9 } },
  chalcocite: { takes: { chalcocite: 1, PbO: 3 }, gives: { Cu2O: 1, SO2: 1, Pb: 3 } },
  magnetite: { takes: { magnetite: 1, Pb: 1 }, gives: { FeO: 3, PbO: 1 } },
  hematite: { takes: { hematite: 1, Pb: 1 }, gives: { FeO: 2, PbO: 1 } },
  quartz: null,
};

export const reductionToSulfate: Readonly<Record<Mineral, Reaction | null>> = {
  pyrite: { takes: { pyrite: 1, PbO: 7.5 }, gives: { Fe2O3: 0.5, SO3: 2, Pb: 7.5 } },
  pyrrhotite: { takes: { pyrrhotite: 1, PbO: 4.5 }, gives: { Fe2O3: 0.5, SO3: 1, Pb: 4.5 } },
  chalcopyrite: { takes: { chalcopyrite: 1, PbO: 8.5 }, gives: { CuO: 1, Fe2O3: 0.5, SO3: 2, Pb: 8.5 } },
  galena: { takes: { galena: 1, PbO: 3 }, gives: { SO3: 1, Pb: 4 } },
  sphalerite: { takes: { sphalerite: 1, PbO: 4 }, gives: { ZnO: 1, SO3: 1, Pb: 4 } },
  arsenopyrite: { takes: { arsenopyrite: 1, PbO: 7 }, gives: { Fe2O3: 0.5, As2O5: 0.5, SO3: 1, Pb: 7 } },
  stibnite: { takes: { stibnite: 1, PbO: 13 }, gives: { Sb2O4: 1, SO3: 3, Pb: 13 } },
  chalcocite: { takes: { chalcocite: 1, PbO: 5 }, gives: { CuO: 2, SO3: 1, Pb: 5 } },
  magnetite: { takes: { magnetite: 1, PbO: 0.5 }, gives: { Fe2O3: 1.5, Pb: 0.5 } },
  hematite: null,
  quartz: null,
};

/** Nitre on lead; with sulfides the oxygen goes to them instead, and the lead is spared. */
export const nitreOnLead: Reaction = { takes: { KNO3: 1, Pb: 2.5 }, gives: { K2O: 0.5, N2: 0.5, PbO: 2.5 } };

/** Grams of lead reduced by a gram of mineral by one of the two; negative where the mineral takes lead up. */
export function leadPerGramOfMineral(reaction: Reaction | null, mineral: Mineral): number {
  if (reaction === null) return 0;
  const lead = gramsPerGram({ reaction, of: 'Pb', per: mineral });
  return reaction.takes.Pb === undefined ? lead : -lead;
}
