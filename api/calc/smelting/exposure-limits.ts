/** Airborne limits of one substance as published; texts, since they differ in kind. Null: none quoted here. */
export interface ExposureLimit {
  substance: string;
  /** Permissible by law in general industry in the United States. */
  oshaPel: string;
  oshaActionLevel: string | null;
  nioshRel: string | null;
  /** Immediately dangerous to life or health. */
  idlh: string | null;
  source: string;
}

const pocketGuide = 'NIOSH Pocket Guide to Chemical Hazards, DHHS (NIOSH) 2005-149';

export const exposureLimits = {
  sulfurDioxide: {
    substance: 'sulfur dioxide',
    oshaPel: '5 ppm',
    oshaActionLevel: null,
    nioshRel: '2 ppm, short term 5 ppm',
    idlh: '100 ppm',
    source: `29 CFR 1910.1000 Table Z-1; ${pocketGuide}`,
  },
  lead: {
    substance: 'lead',
    oshaPel: '0.050 mg/m³',
    oshaActionLevel: '0.030 mg/m³',
    nioshRel: null,
    idlh: '100 mg/m³',
    source: `29 CFR 1910.1025; ${pocketGuide}`,
  },
  inorganicArsenic: {
    substance: 'inorganic arsenic',
    oshaPel: '0.010 mg/m³',
    oshaActionLevel: '0.005 mg/m³',
    nioshRel: 'ceiling 0.002 mg/m³',
    idlh: '5 mg/m³',
    source: `29 CFR 1910.1018; ${pocketGuide}`,
  },
  nitrogenDioxide: {
    substance: 'nitrogen dioxide',
    oshaPel: 'ceiling 5 ppm',
    oshaActionLevel: null,
    nioshRel: 'short term 1 ppm',
    idlh: null,
    source: '29 CFR 1910.1000 Table Z-1; NIOSH documentation for IDLH concentrations, nitrogen dioxide, 1994',
  },
  nitricAcid: {
    substance: 'nitric acid',
    oshaPel: '2 ppm',
    oshaActionLevel: null,
    nioshRel: '2 ppm, short term 4 ppm',
    idlh: '25 ppm',
    source: '29 CFR 1910.1000 Table Z-1; NIOSH documentation for IDLH concentrations, nitric acid, 1994',
  },
  mercuryVapor: {
    substance: 'mercury vapor',
    oshaPel: '0.1 mg/m³',
    oshaActionLevel: null,
    nioshRel: '0.05 mg/m³',
    idlh: '10 mg/m³',
    source: `29 CFR 1910.1000 Table Z-1 and Z-2; ${pocketGuide}`,
  },
} as const satisfies Readonly<Record<string, ExposureLimit>>;

/** For example "In air, nitric acid: OSHA limit 2 ppm; NIOSH recommends 2 ppm, short term 4 ppm; …". */
export function limitSentence(limit: ExposureLimit): string {
  const parts = [
    `OSHA limit ${limit.oshaPel}`,
    limit.oshaActionLevel && `action level ${limit.oshaActionLevel}`,
    limit.nioshRel && `NIOSH recommends ${limit.nioshRel}`,
    limit.idlh && `immediately dangerous at ${limit.idlh}`,
  ];
  return `In air, ${limit.substance}: ${parts.filter((part) => part !== null).join('; ')}.`;
}
