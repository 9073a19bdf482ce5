import { Dec, sumOf, type DecimalNumber } from '../money.ts';
import { percentText } from '../terms/payable-form.ts';
import { conversionText, convert, massConversion } from '../terms/conversion.ts';
import type { MassBasis, MassUnit } from '../terms/term-units.ts';
import { figure, given, shown, type Figure } from './figure.ts';
import type { ConcentrateParcel, DoreParcel } from './input.ts';
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
    workMeltWeights(run, parcel);
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

function convertedMass(run: SettlementRun, text: string, from: MassUnit, to: MassUnit): Figure {
  const value = convert(new Dec(text), massConversion(from, to), run.terms.factors);
  return figure(value, run.terms.rounding.mass, to);
}

function workDryWeights(run: SettlementRun, parcel: ConcentrateParcel, unit: MassUnit, franchise: string) {
  const { rounding } = run.terms;
  const mass = (value: DecimalNumber) => figure(value, rounding.mass, unit);
  const gross: Figure[] = [];
  const wet: Figure[] = [];
  const dry: Figure[] = [];
  const several = parcel.sublots.length > 1;
  if (parcel.sublots.length === 0) {
    blocker(run, 'no-weights', '/parcel/sublots', 'No sublot has been weighed; enter gross and tare.');
    return;
  }
  parcel.sublots.forEach((sublot, index) => {
    const prefix = several ? `weights/${index + 1}` : 'weights';
    const of = several ? `${sublot.name}: ` : '';
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
      label: `${of}wet mass`,
      working: `${shown(grossMass)} gross − ${shown(tare)} tare = ${shown(wetMass)}`,
      result: wetMass,
    });
    addLine(run, {
      id: `${prefix}/dry`,
      section: 'weights',
      label: `${of}dry mass, moisture ${moisture.text} %`,
      working: `${shown(wetMass)} × (100 % − ${shown(moisture)}) = ${shown(dryMass)}`,
      quantity: wetMass,
      rate: moisture,
      result: dryMass,
    });
    gross.push(grossMass);
    wet.push(wetMass);
    dry.push(dryMass);
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
}

function totalLine(run: SettlementRun, basis: MassBasis, label: string, parts: Figure[]): Figure {
  const first = parts[0] as Figure;
  const total = figure(sumOf(parts.map((f) => f.value)), run.terms.rounding.mass, first.unit);
  addLine(run, {
    id: `weights/${basis}`,
    section: 'weights',
    label,
    working: `${parts.map(shown).join(' + ')} = ${shown(total)}`,
    result: total,
  });
  return total;
}

function workMeltWeights(run: SettlementRun, parcel: DoreParcel) {
  const { weights } = run.terms;
  if (weights.kind !== 'melt') return;
  if (parcel.bars.length === 0) {
    blocker(run, 'no-weights', '/parcel/bars', 'No bar has been weighed; enter its mass as received.');
    return;
  }
  const received: Figure[] = [];
  const record: Figure[] = [];
  parcel.bars.forEach((bar, index) => {
    const before = convertedMass(run, bar.receivedG, 'g', weights.unit);
    received.push(before);
    const useMelt = weights.massOfRecord === 'after-melting';
    const after = bar.afterMeltG === null ? null : convertedMass(run, bar.afterMeltG, 'g', weights.unit);
    if (useMelt && after === null) {
      const sentence = `Bar ${bar.name} has no mass after melting, which is the mass of record; `;
      if (run.input.stage === 'final') {
        blocker(
          run,
          'no-mass-after-melting',
          `/parcel/bars/${index}/afterMeltG`,
          `${sentence}enter it before the final settlement.`,
        );
      } else {
        warning(
          run,
          'no-mass-after-melting',
          `/parcel/bars/${index}/afterMeltG`,
          `${sentence}the mass as received stands in provisionally.`,
        );
      }
    }
    const mass = useMelt && after !== null ? after : before;
    record.push(mass);
    run.pieces.push({ name: bar.name, mass });
    const prefix = parcel.bars.length > 1 ? `weights/${index + 1}` : 'weights';
    const of = parcel.bars.length > 1 ? `${bar.name}: ` : '';
    barLine(run, `${prefix}/received`, `${of}mass as received`, bar.receivedG, before);
    if (after === null || bar.afterMeltG === null) return;
    barLine(run, `${prefix}/after-melting`, `${of}mass after melting`, bar.afterMeltG, after);
    meltLossLine(run, { prefix, of, index, before, after });
  });
  if (parcel.bars.length > 1) totalLine(run, 'received', 'Mass as received', received);
  const settlement = figure(sumOf(record.map((f) => f.value)), run.terms.rounding.mass, weights.unit);
  addLine(run, {
    id: 'weights/settlement',
    section: 'weights',
    label: 'Mass of record',
    working: `${record.map(shown).join(' + ')} = ${shown(settlement)}`,
    result: settlement,
  });
  run.masses = {
    received: figure(sumOf(received.map((f) => f.value)), run.terms.rounding.mass, weights.unit),
    settlement,
  };
}

function barLine(run: SettlementRun, id: string, label: string, grams: string, mass: Figure) {
  const conversion = massConversion('g', mass.unit as MassUnit);
  const from = given(grams, 'g');
  addLine(run, {
    id,
    section: 'weights',
    label,
    working: `${shown(from)}${conversionText(conversion, run.terms.factors)} = ${shown(mass)}`,
    quantity: from,
    result: mass,
  });
}

function meltLossLine(
  run: SettlementRun,
  bar: { prefix: string; of: string; index: number; before: Figure; after: Figure },
) {
  const { weights } = run.terms;
  const loss = figure(bar.before.value.minus(bar.after.value), run.terms.rounding.mass, bar.before.unit);
  addLine(run, {
    id: `${bar.prefix}/melt-loss`,
    section: 'weights',
    label: `${bar.of}melt loss`,
    working: `${shown(bar.before)} − ${shown(bar.after)} = ${shown(loss)}`,
    result: loss,
  });
  const path = `/parcel/bars/${bar.index}/afterMeltG`;
  if (loss.value.lt(0)) {
    warning(
      run,
      'gain-in-melting',
      path,
      `A bar weighs more after melting (${shown(bar.after)}) than as received (${shown(bar.before)}); check both weighings.`,
    );
  }
  if (weights.kind !== 'melt' || weights.meltLossLimitFrac === null || bar.before.value.isZero()) return;
  if (loss.value.div(bar.before.value).gt(weights.meltLossLimitFrac)) {
    warning(
      run,
      'melt-loss-above-limit',
      path,
      `The melt loss of ${shown(loss)} is more than ${percentText(weights.meltLossLimitFrac)} of ${shown(bar.before)}; ask for an explanation, or for a second weighing and sample.`,
    );
  }
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
