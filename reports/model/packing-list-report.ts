import { Dec } from '../../api/calc/money.ts';
import { DEMO_NOTICE } from './demo-notice.ts';
import { formatDate, formatDecimal, formatMoney, sumAsPrinted } from './format.ts';
import type { Report } from './report.ts';
import { figure, text, total } from './table-parts.ts';

export interface PackingListInput {
  shipment: {
    code: string;
    shippedOn: string;
    carrier: string;
    seals: string;
    insuredFor: string | null;
    insuredCurrency: string | null;
    insurer: string;
    remarks: string;
    counterpartyName: string;
    products: { code: string; kind: string; massKg: string }[];
  };
  counterpartyAddress: string;
  mill: { name: string; address: string; isDemo: boolean };
}

const KINDS: Record<string, string> = {
  bar: 'Bar of doré',
  parcel: 'Concentrate, as weighed wet',
  bead: 'Bead',
  button: 'Lead button',
  matte: 'Matte',
  slag: 'Slag',
  lead: 'Lead',
};

/** The least mass in kg that is printed in grams as well: bars and beads are weighed in grams. */
const GRAM_KINDS = new Set(['bar', 'bead', 'button']);
const decimalsOf = ({ kind, massKg }: { kind: string; massKg: string }): string =>
  new Dec(massKg).toFixed(GRAM_KINDS.has(kind) ? 5 : 3);

const inOneLine = (address: string): string => address.split('\n').join(', ');

/** What goes with a shipment: each piece with its mass, the seals, and who hands it to whom. No value is printed on it. */
export function packingListReport(input: PackingListInput): Report {
  const { shipment, mill } = input;
  const count = shipment.products.length;
  const totalKg = sumAsPrinted(shipment.products.map((product) => decimalsOf(product)));
  return {
    title: 'Packing list',
    subtitle: `Shipment ${shipment.code} · ${mill.name} to ${shipment.counterpartyName}`,
    runningHead: `Packing list, shipment ${shipment.code}`,
    demoNotice: mill.isDemo ? DEMO_NOTICE : null,
    language: 'en',
    blocks: [
      {
        kind: 'lead',
        text: `${count === 1 ? 'One piece' : `${count} pieces`}, ${formatDecimal(totalKg)} kg net in all, shipped on ${formatDate(shipment.shippedOn)}.`,
      },
      {
        kind: 'facts',
        facts: [
          {
            label: 'From',
            value: [mill.name, inOneLine(mill.address)].filter((one) => one !== '').join(', '),
          },
          {
            label: 'To',
            value: [shipment.counterpartyName, inOneLine(input.counterpartyAddress)]
              .filter((one) => one !== '')
              .join(', '),
          },
          { label: 'Carrier', value: shipment.carrier || 'not named' },
          { label: 'Seals', value: shipment.seals || 'none noted' },
          ...(shipment.insuredFor === null || shipment.insuredCurrency === null
            ? []
            : [
                {
                  label: 'Insured for',
                  value: `${formatMoney(shipment.insuredFor, 2, shipment.insuredCurrency)}${shipment.insurer === '' ? '' : `, ${shipment.insurer}`}`,
                },
              ]),
          ...(shipment.remarks === '' ? [] : [{ label: 'Remarks', value: shipment.remarks }]),
        ],
      },
      {
        kind: 'table',
        caption: 'Contents',
        columns: [
          text('place', 'No.', 0.5),
          text('code', 'Piece', 2),
          text('kind', 'What it is', 3),
          figure('massKg', 'Net mass, kg', 1.5),
        ],
        rows: [
          ...shipment.products.map((product, at) => ({
            style: 'plain' as const,
            cells: {
              place: String(at + 1),
              code: product.code,
              kind: KINDS[product.kind] ?? product.kind,
              massKg: formatDecimal(decimalsOf(product)),
            },
          })),
          total({ place: '', code: 'In all', kind: '', massKg: formatDecimal(totalKg) }),
        ],
      },
      {
        kind: 'signatures',
        parties: ['the mill: packed and sealed', 'the carrier: taken over', 'the receiver: seals unbroken'],
      },
    ],
  };
}
