import { exposureLimits, limitSentence } from './exposure-limits.ts';
import { meltingPointsC } from './melting.ts';

export interface Caution {
  /** Stable, kebab-case. */
  code: string;
  title: string;
  /** Ends with "local codes and permits govern". */
  text: string;
  /** Where its figures come from; empty where it has none. */
  source: string;
}

/** What a piece of work involves, as far as it can hurt someone. */
export interface Hazards {
  roast: boolean;
  arsenopyrite: boolean;
  nitre: boolean;
  /** Flour, charcoal or another reducer in the charge. */
  reducers: boolean;
  lead: boolean;
  nitricAcid: boolean;
  mercury: boolean;
  fluorspar?: boolean;
  /** Sulfides go into the crucible unroasted. */
  sulfidesInMelt?: boolean;
}

/** The sentence that every caution ends with; where several stand together it need be said only once. */
export const governed = 'Not a substitute for professional advice: local codes and permits govern.';

function caution(code: string, title: string, sentences: string[], source = ''): Caution {
  return { code, title, text: [...sentences, governed].join(' '), source };
}

const sulfurDioxide = caution(
  'sulfur-dioxide',
  'Roasting gives off sulfur dioxide',
  [
    'Roast outdoors or under extraction, stand upwind, wear the respirator made for acid gas, and keep others away.',
    'A permit may be needed to let the gas off.',
    limitSentence(exposureLimits.sulfurDioxide),
  ],
  exposureLimits.sulfurDioxide.source,
);

const sulfurDioxideWhenSmelting = caution(
  'sulfur-dioxide-when-smelting',
  'Sulfides in the crucible give off sulfur dioxide',
  [
    'Melt under extraction or outdoors, upwind, with the respirator made for acid gas: the sulfur burns as it leaves the charge.',
    limitSentence(exposureLimits.sulfurDioxide),
  ],
  exposureLimits.sulfurDioxide.source,
);

const arsenicWhenRoasting = caution(
  'arsenic-when-roasting',
  'Do not roast this lot without professional control',
  [
    'It holds arsenopyrite: roasting sends the arsenic off as arsenic trioxide fume, a deadly poison and a carcinogen.',
    'Fume and the dust that settles from it must be caught; do not roast arsenical material without professional control.',
    limitSentence(exposureLimits.inorganicArsenic),
  ],
  exposureLimits.inorganicArsenic.source,
);

const arsenicWhenSmelting = caution(
  'arsenic-when-smelting',
  'The charge holds arsenic',
  [
    'Smelting arsenopyrite gives arsenic fume and speiss: work under extraction with a respirator for toxic fume.',
    'Slag, speiss and flue dust hold arsenic; keep them dry, away from acid, and out of reach.',
    limitSentence(exposureLimits.inorganicArsenic),
  ],
  exposureLimits.inorganicArsenic.source,
);

const lead = caution(
  'lead',
  'Lead fume and dust',
  [
    'Melting and above all cupelling lead gives fume: work under extraction, with gloves and a respirator for lead.',
    'No food, drink or tobacco near it; wash before eating; leave work clothes at work; have blood lead tested.',
    'Cupels, slag and flue dust are hazardous waste in many places.',
    limitSentence(exposureLimits.lead),
  ],
  exposureLimits.lead.source,
);

const moltenMetal = caution('molten-metal', 'Molten metal and slag', [
  'Dry and preheat moulds and tools; water or damp under molten metal explodes.',
  'Wear a face shield, leather or aluminized clothing and boots; keep the way to the mould clear.',
  `Let a lead button freeze (${meltingPointsC.lead} °C) and cool well below that before knocking it out.`,
  'A furnace burning fuel needs fresh air: it gives off carbon monoxide.',
]);

const nitre = caution('nitre', 'Nitre is an oxidizer', [
  'Weigh it out only as calculated and mix it in last; a charge with too much boils over.',
  'Never let it meet charcoal, flour or sulfides outside the calculated charge, and store it apart from them.',
]);

const nitreWithReducers = caution('nitre-with-reducers', 'Nitre and a reducer in one charge', [
  'This charge holds both nitre and flour, charcoal or another reducer: together they can deflagrate.',
  'They also undo each other; leave one of the two out unless you know why both are there.',
]);

const nitricAcid = caution(
  'nitric-acid',
  'Nitric acid',
  [
    'Parting gives off brown fumes of nitrogen dioxide; harm to the lungs can come hours later: work under extraction.',
    'Wear goggles and acid gloves; pour acid into water, never water into acid.',
    limitSentence(exposureLimits.nitricAcid),
    limitSentence(exposureLimits.nitrogenDioxide),
  ],
  `${exposureLimits.nitricAcid.source}; ${exposureLimits.nitrogenDioxide.source}`,
);

const mercury = caution(
  'mercury',
  'Do not roast, smelt or heat material that holds mercury',
  [
    'Never heat amalgam or mercury-bearing material in the open: the vapor has no smell and poisons.',
    'Have it retorted under professional control first.',
    limitSentence(exposureLimits.mercuryVapor),
  ],
  exposureLimits.mercuryVapor.source,
);

const fluorspar = caution('fluorspar', 'Fluorspar', [
  'Hot charges with fluorspar can give off fluoride fumes, which burn the lungs: use extraction.',
]);

/**
 * The cautions that belong to a piece of work, gravest first. Molten metal is always among them: whoever
 * prints a charge sheet is going to melt. Exposure limits are quoted from the sources named with each; they
 * are those of the United States.
 */
export function cautionsFor(hazards: Hazards): Caution[] {
  return [
    hazards.mercury ? mercury : null,
    hazards.arsenopyrite ? (hazards.roast ? arsenicWhenRoasting : arsenicWhenSmelting) : null,
    hazards.roast ? sulfurDioxide : null,
    hazards.sulfidesInMelt === true ? sulfurDioxideWhenSmelting : null,
    hazards.lead ? lead : null,
    moltenMetal,
    hazards.nitre ? nitre : null,
    hazards.nitre && hazards.reducers ? nitreWithReducers : null,
    hazards.nitricAcid ? nitricAcid : null,
    hazards.fluorspar === true ? fluorspar : null,
  ].filter((one) => one !== null);
}
