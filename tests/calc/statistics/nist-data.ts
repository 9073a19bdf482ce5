/**
 * NIST Statistical Reference Datasets, AtmWtAg: L. J. Powell, T. J. Murphy, J. W. Gramlich, "The absolute isotopic
 * abundance and atomic weight of a reference sample of silver", J. Res. NBS 87 (1982), 9. By instrument, in units of
 * 1e-7 above 107.868.
 */
const aboveSilver = [
  [
    1568, 1465, 1572, 1785, 1446, 1903, 1526, 1494, 1616, 1587, 1519, 1486, 1419, 1569, 1508, 1672, 1385,
    1518, 1662, 1424, 1360, 1333, 1610, 1477,
  ],
  [
    1079, 1344, 1513, 1197, 1604, 1385, 1642, 1365, 1151, 1082, 1517, 1448, 1198, 1482, 1334, 1609, 1101,
    1512, 1469, 1360, 1254, 1261, 1450, 1368,
  ],
];
export const silverByInstrument = aboveSilver.map((values) =>
  values.map((above) => Number(`107.868${String(above).padStart(4, '0')}`)),
);

/**
 * NIST Statistical Reference Datasets, Michelso: A. A. Michelson's hundred determinations of the speed of light, 1879,
 * in thousands of km/s; here in km/s above 299,000.
 */
const aboveLight = [
  850, 740, 900, 1070, 930, 850, 950, 980, 980, 880, 1000, 980, 930, 650, 760, 810, 1000, 1000, 960, 960, 960,
  940, 960, 940, 880, 800, 850, 880, 900, 840, 830, 790, 810, 880, 880, 830, 800, 790, 760, 800, 880, 880,
  880, 860, 720, 720, 620, 860, 970, 950, 880, 910, 850, 870, 840, 840, 850, 840, 840, 840, 890, 810, 810,
  820, 800, 770, 760, 740, 750, 760, 910, 920, 890, 860, 880, 720, 840, 850, 850, 780, 890, 840, 780, 810,
  760, 810, 790, 810, 820, 850, 870, 870, 810, 740, 810, 940, 950, 800, 810, 870,
];
export const michelson = aboveLight.map((above) => (299_000 + above) / 1000);

const upDown = (place: number): string => (place === 0 ? '2' : place % 2 === 1 ? '1' : '3');

/**
 * NIST Statistical Reference Datasets, SmLs01, SmLs04 and SmLs07: the constructed sets of S. D. Simon and J. P. Lesage
 * (1989), nine treatments of 21 replicates, offset + β(treatment) + β(replicate) with β 0.2, 0.1, 0.3, 0.1, 0.3, …, to
 * one decimal; the offset is 1, 10⁶ and 10¹².
 */
export const simonLesage = (wholePart: string): number[][] =>
  Array.from({ length: 9 }, (_, treatment) =>
    Array.from({ length: 21 }, (_, replicate) =>
      Number(`${wholePart}.${Number(upDown(treatment)) + Number(upDown(replicate))}`),
    ),
  );

/** NIST Statistical Reference Datasets, NumAcc2 to NumAcc4: 1001 values, .2 and then .1 and .3 in turn, above a whole number. */
export const numAcc = (wholePart: string): number[] =>
  Array.from({ length: 1001 }, (_, place) => Number(`${wholePart}.${upDown(place)}`));
