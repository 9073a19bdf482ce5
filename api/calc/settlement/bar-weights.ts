import { given, figure, shown, type Figure } from './figure.ts';
import type { DoreParcel } from './input.ts';
import { sumOf } from '../money.ts';
import { conversionText, massConversion } from '../terms/conversion.ts';
import { percentText } from '../terms/payable-form.ts';
import type { MassUnit } from '../terms/term-units.ts';
import { convertedMass, pieceLabel, totalLine } from './mass-lines.ts';
import { addLine, blocker, warning, type SettlementRun } from './run.ts';

/** Bars: received, after melting, melt loss; the mass of record as the contract says. */
export function workBarWeights(run: SettlementRun, parcel: DoreParcel) {
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
    const piece = parcel.bars.length > 1 ? bar.name : null;
    barLine(run, `${prefix}/received`, pieceLabel(piece, 'mass as received'), bar.receivedG, before);
    if (after === null || bar.afterMeltG === null) return;
    barLine(run, `${prefix}/after-melting`, pieceLabel(piece, 'mass after melting'), bar.afterMeltG, after);
    meltLossLine(run, { prefix, piece, index, before, after });
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
  bar: { prefix: string; piece: string | null; index: number; before: Figure; after: Figure },
) {
  const { weights } = run.terms;
  const loss = figure(bar.before.value.minus(bar.after.value), run.terms.rounding.mass, bar.before.unit);
  addLine(run, {
    id: `${bar.prefix}/melt-loss`,
    section: 'weights',
    label: pieceLabel(bar.piece, 'melt loss'),
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
