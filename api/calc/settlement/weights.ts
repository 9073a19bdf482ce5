import { Dec, sumOf, type DecimalNumber } from '../money.ts';
import { percentText } from '../terms/payable-form.ts';
import { convert, massConversion } from '../terms/conversion.ts';
import { choosingElements } from '../terms/choosing-elements.ts';
import { MOISTURE, type MassUnit } from '../terms/term-units.ts';
import { figure, given, shown, type Figure } from './figure.ts';
import { workBarWeights } from './bar-weights.ts';
import type { ConcentrateParcel } from './input.ts';
import { convertedMass, pieceLabel, totalLine } from './mass-lines.ts';
import { addLine, blocker, warning, type SettlementRun } from './run.ts';

/**
 * Masses of the parcel. Concentrate: gross − tare = wet; wet × (1 − moisture) = dry,
 * per sublot; sum; less franchise = settlement dry mass (ISO 12743 and ISO 10251
 * give how the mass is sampled and dried; wet-basis moisture is common practice).
 * Doré: received, after melting, melt loss; the mass of record as the contract says.
 */
export function workWeights(run: SettlementRun): void {
  const { parcel, terms } = run.input;
  if (parcel.kind === 'concentrate' && terms.weights.kind === 'dry') {
    workDryWeights(run, parcel, terms.weights.unit, terms.weights.franchiseFrac);
  } else if (parcel.kind === 'dore' && terms.weights.kind === 'melt') {
    workBarWeights(run, parcel);
  } else {
    blocker(
      run,
      'parcel-not-of-contract',
      '/parcel',
      `The contract weighs ${terms.weights.kind === 'dry' ? 'sublots of wet material' : 'bars'}, the parcel is ${parcel.kind === 'dore' ? 'bars' : 'sublots of wet material'}.`,
    );
  }
  checkAcceptance(run);
}

function workDryWeights(run: SettlementRun, parcel: ConcentrateParcel, unit: MassUnit, franchise: string) {
  const { rounding } = run.terms;
  const mass = (value: DecimalNumber) => figure(value, rounding.mass, unit);
  const gross: Figure[] = [];
  const wet: Figure[] = [];
  const dry: Figure[] = [];
  const moistures: Figure[] = [];
  const several = parcel.sublots.length > 1;
  if (parcel.sublots.length === 0) {
    blocker(run, 'no-weights', '/parcel/sublots', 'No sublot has been weighed; enter gross and tare.');
    return;
  }
  parcel.sublots.forEach((sublot, index) => {
    const prefix = several ? `weights/${index + 1}` : 'weights';
    const piece = several ? sublot.name : null;
    const grossMass = convertedMass(run, sublot.grossKg, 'kg', unit);
    const tare = convertedMass(run, sublot.tareKg, 'kg', unit);
    const wetMass = mass(grossMass.value.minus(tare.value));
    const moisture = figure(new Dec(sublot.moistureFrac).times(100), rounding.moisture, 'percent');
    if (wetMass.value.lte(0)) {
      blocker(
        run,
        'tare-not-below-gross',
        `/parcel/sublots/${index}/tareKg`,
        `Sublot ${sublot.name}: the tare of ${sublot.tareKg} kg leaves nothing of the gross mass of ${sublot.grossKg} kg.`,
      );
    }
    if (moisture.value.lt(0) || moisture.value.gte(100)) {
      blocker(
        run,
        'moisture-out-of-range',
        `/parcel/sublots/${index}/moistureFrac`,
        `Sublot ${sublot.name}: a moisture of ${moisture.text} % cannot be; enter a fraction from 0 to below 1.`,
      );
    }
    const dryMass = mass(wetMass.value.times(new Dec(100).minus(moisture.value)).div(100));
    addLine(run, {
      id: `${prefix}/wet`,
      section: 'weights',
      label: pieceLabel(piece, 'wet mass'),
      working: `${shown(grossMass)} gross − ${shown(tare)} tare = ${shown(wetMass)}`,
      result: wetMass,
    });
    addLine(run, {
      id: `${prefix}/dry`,
      section: 'weights',
      label: pieceLabel(piece, `dry mass, moisture ${moisture.text} %`),
      working: `${shown(wetMass)} × (100 % − ${shown(moisture)}) = ${shown(dryMass)}`,
      quantity: wetMass,
      rate: moisture,
      result: dryMass,
    });
    gross.push(grossMass);
    wet.push(wetMass);
    dry.push(dryMass);
    moistures.push(moisture);
    run.pieces.push({ name: sublot.name, mass: dryMass });
  });
  const grossMass = mass(sumOf(gross.map((f) => f.value)));
  const wetMass = several ? totalLine(run, 'wet', 'Wet mass', wet) : (wet[0] as Figure);
  const dryMass = several ? totalLine(run, 'dry', 'Dry mass', dry) : (dry[0] as Figure);
  const lost = mass(dryMass.value.times(franchise));
  const settlement = mass(dryMass.value.minus(lost.value));
  if (!new Dec(franchise).isZero()) {
    addLine(run, {
      id: 'weights/franchise',
      section: 'weights',
      label: `Franchise of ${percentText(franchise)}`,
      working: `${shown(dryMass)} × ${percentText(franchise)} = ${shown(lost)}`,
      quantity: dryMass,
      rate: given(new Dec(franchise).times(100).toFixed(), 'percent'),
      result: lost,
    });
  }
  addLine(run, {
    id: 'weights/settlement',
    section: 'weights',
    label: 'Settlement dry mass',
    working: `${shown(dryMass)} − ${shown(lost)} = ${shown(settlement)}`,
    result: settlement,
  });
  run.masses = {
    gross: grossMass,
    wet: wetMass,
    moisture: mass(wetMass.value.minus(dryMass.value)),
    dry: dryMass,
    settlement,
  };
  moistureAsLevel(run, wetMass, dryMass, moistures);
}

/** Some contracts penalize moisture as if it were an element. */
function moistureAsLevel(run: SettlementRun, wet: Figure, dry: Figure, moistures: Figure[]) {
  const clauses = [...run.terms.penalties, ...run.terms.credits.filter((c) => c.kind === 'component')];
  const elements = [...clauses.flatMap((clause) => clause.elements), ...choosingElements(run.terms)];
  if (wet.value.lte(0) || !elements.includes(MOISTURE)) return;
  const only = moistures[0];
  if (moistures.length === 1 && only !== undefined) {
    run.assays.set(MOISTURE, only);
    return;
  }
  const water = wet.value.minus(dry.value);
  const level = figure(water.div(wet.value).times(100), run.terms.rounding.moisture, 'percent');
  addLine(run, {
    id: 'weights/moisture',
    section: 'weights',
    label: 'Moisture of the parcel',
    working: `(${shown(wet)} − ${shown(dry)}) ÷ ${shown(wet)} × 100 = ${shown(level)}`,
    result: level,
  });
  run.assays.set(MOISTURE, level);
}

function checkAcceptance(run: SettlementRun) {
  const { acceptance } = run.terms;
  if (acceptance === null) return;
  const mass = run.masses[acceptance.basis];
  if (mass === undefined) return;
  const value = convert(
    mass.value,
    massConversion(mass.unit as MassUnit, acceptance.unit),
    run.terms.factors,
  );
  const is = `The ${acceptance.basis} mass is ${value.toDecimalPlaces(3).toFixed()} ${acceptance.unit}; the contract`;
  if (acceptance.minimum !== null && value.lt(acceptance.minimum)) {
    warning(
      run,
      'parcel-below-minimum',
      '/parcel',
      `${is} takes no less than ${acceptance.minimum} ${acceptance.unit}.`,
    );
  }
  if (acceptance.maximum !== null && value.gt(acceptance.maximum)) {
    warning(
      run,
      'parcel-above-maximum',
      '/parcel',
      `${is} takes no more than ${acceptance.maximum} ${acceptance.unit}.`,
    );
  }
}
