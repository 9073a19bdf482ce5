import { useSuspenseQuery } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { Link } from '@tanstack/react-router';
import { lineageTree } from '../../../api/calc/production/lineage-tree.ts';
import type { LineageLine } from '../../../api/calc/production/lineage-tree.ts';
import type { Lineage, LineageNode } from '../../../api/schemas/lineage.ts';
import { lineageScene } from '../../../reports/charts/lineage-scene.ts';
import type { Formatter } from '../../lib/format.ts';
import { useFormat } from '../../lib/owner.ts';
import { lineageQuery } from '../../lib/production-queries.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import { SceneFrame } from '../../parts/scene-figure.tsx';

const kindWords: Record<LineageNode['kind'], string> = {
  day: 'Day',
  lot: 'Lot',
  batch: 'Batch',
  product: 'Product',
  shipment: 'Shipment',
  statement: 'Statement',
};

const nameOf = (node: LineageNode, format: Formatter): string =>
  node.kind === 'day' ? format.date(node.on) : node.code;

function massOf(kg: string | null, format: Formatter): string {
  return kg === null ? '' : format.quantity('lotMassKg', Number(kg));
}

/** Where a day, lot, batch or product came from and what became of it: drawn, and as lists that can be walked. */
export function LineagePage() {
  const of = useAsked('of');
  return of === '' ? (
    <Page title="Where it came from">
      <Lead>
        Choose what to follow: a lot or a product from <Link to="/stock">Stock</Link>, or a day from the{' '}
        <Link to="/days">daily log</Link>.
      </Lead>
    </Page>
  ) : (
    <Followed of={of} />
  );
}

function Followed({ of }: { of: string }) {
  const { data: lineage } = useSuspenseQuery(lineageQuery(of));
  const format = useFormat();
  const start = lineage.nodes.find(({ key }) => key === lineage.of);
  if (start === undefined) throw new Error('The lineage does not hold what it is of.');
  const order = new Map(lineage.nodes.map(({ key }, at) => [key, at]));
  const lines = (towards: 'from' | 'to'): LineageLine[] =>
    lineageTree(lineage.edges, { of: lineage.of, towards, order: (key) => order.get(key) ?? 0 });
  const [back, on] = [lines('from'), lines('to')];
  const title = `${kindWords[start.kind]} ${nameOf(start, format)}: where it came from and what became of it`;
  const scene = lineageScene({
    title,
    of: lineage.of,
    nodes: lineage.nodes.map((node) => ({
      key: node.key,
      kind: node.kind,
      label: node.kind === 'day' ? nameOf(node, format) : `${kindWords[node.kind]} ${node.code}`,
      about: [node.kind === 'day' ? '' : format.date(node.on), massOf(node.massKg, format)]
        .filter((one) => one !== '')
        .join(', '),
    })),
    edges: lineage.edges,
  });
  return (
    <Page title={title}>
      <Lead>
        {countText(back, lineage, 'It was made from')} {countText(on, lineage, 'Of it came')}
      </Lead>
      {lineage.cutOff ? <p>There is more than is shown here: go on from one of the records below.</p> : null}
      <p>
        <RecordLink node={start} lineage={lineage}>
          Open {nameOf(start, format)}
        </RecordLink>
      </p>
      <div className="lineage-drawing">
        <SceneFrame scene={scene} />
      </div>
      <div className="lineage-lists">
        <LineList
          heading="It was made from"
          empty="Nothing else is on record."
          lines={back}
          lineage={lineage}
        />
        <LineList
          heading="What became of it"
          empty="Nothing was made of it yet."
          lines={on}
          lineage={lineage}
        />
      </div>
    </Page>
  );
}

function countText(lines: readonly LineageLine[], lineage: Lineage, begin: string): string {
  const kinds = new Map<LineageNode['kind'], number>();
  for (const { key, repeated } of lines) {
    const kind = lineage.nodes.find((node) => node.key === key)?.kind;
    if (kind !== undefined && !repeated) kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
  }
  if (kinds.size === 0) return `${begin} nothing that is on record.`;
  const plural: Record<LineageNode['kind'], string> = {
    day: 'days',
    lot: 'lots',
    batch: 'batches',
    product: 'products',
    shipment: 'shipments',
    statement: 'statements',
  };
  const counts = [...kinds].map(([kind, count]) =>
    count === 1 ? `one ${kindWords[kind].toLowerCase()}` : `${count} ${plural[kind]}`,
  );
  return `${begin} ${counts.length < 2 ? counts.join('') : `${counts.slice(0, -1).join(', ')} and ${counts.at(-1)}`}.`;
}

function LineList(props: { heading: string; empty: string; lines: LineageLine[]; lineage: Lineage }) {
  const { heading, empty, lines, lineage } = props;
  const format = useFormat();
  const nodes = new Map(lineage.nodes.map((node) => [node.key, node]));
  return (
    <section>
      <h2>{heading}</h2>
      {lines.length === 0 ? <p>{empty}</p> : null}
      <ul className="lineage-list">
        {lines.map((line, at) => {
          const node = nodes.get(line.key);
          if (node === undefined) return null;
          const mass = massOf(line.massKg ?? node.massKg, format);
          return (
            // One thing may be told twice, but never twice at the same place.
            <li key={`${line.key} ${at}`} className={`depth-${Math.min(line.depth, 7)}`}>
              <span className="visually-hidden">{line.depth === 0 ? '' : `step ${line.depth + 1}: `}</span>
              {kindWords[node.kind]}{' '}
              <RecordLink node={node} lineage={lineage}>
                {nameOf(node, format)}
              </RecordLink>
              {node.kind === 'day' ? '' : `, ${format.date(node.on)}`}
              {mass === '' ? '' : `, ${mass}`}
              {line.repeated ? ', told above' : ''}{' '}
              <Link className="lineage-follow" to="/lineage" search={{ of: node.key }}>
                follow<span className="visually-hidden"> {nameOf(node, format)}</span>
              </Link>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** To the page of a record; a product is on the page of the batch that gave it. */
function RecordLink(props: { node: LineageNode; lineage: Lineage; children: ReactNode }) {
  const { node, lineage, children } = props;
  switch (node.kind) {
    case 'day':
      return (
        <Link to="/days/$dayId" params={{ dayId: node.id }}>
          {children}
        </Link>
      );
    case 'lot':
      return (
        <Link to="/lots/$lotId" params={{ lotId: node.id }}>
          {children}
        </Link>
      );
    case 'batch':
      return (
        <Link to="/batches/$batchId" params={{ batchId: node.id }}>
          {children}
        </Link>
      );
    case 'product': {
      const batch = lineage.edges.find(({ to }) => to === node.key)?.from.replace('batch:', '');
      return batch === undefined ? (
        children
      ) : (
        <Link to="/batches/$batchId" params={{ batchId: batch }}>
          {children}
        </Link>
      );
    }
    case 'shipment':
      return (
        <Link to="/shipments/$shipmentId" params={{ shipmentId: node.id }}>
          {children}
        </Link>
      );
    case 'statement':
      return (
        <Link to="/settlements/$statementId" params={{ statementId: node.id }}>
          {children}
        </Link>
      );
  }
}
