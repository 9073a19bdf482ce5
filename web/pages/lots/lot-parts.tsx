import type { ReactNode } from 'react';
import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { api, send } from '../../api.ts';
import { sumOf } from '../../../api/calc/money.ts';
import { partsAgainstWeighing } from '../../../api/calc/production/parts-weighing.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import type { LotPart } from '../../../api/schemas/lot-part.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { millQuery } from '../../lib/mill.ts';
import { useFormat } from '../../lib/owner.ts';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { AddPart } from './add-part.tsx';

/** To where a part came from. */
function SourceLink({ part }: { part: LotPart }) {
  const format = useFormat();
  if (part.source === 'day')
    return (
      <Link to="/days/$dayId" params={{ dayId: part.sourceId }}>
        {format.date(part.sourceCode)}
      </Link>
    );
  if (part.source === 'lot')
    return (
      <Link to="/lots/$lotId" params={{ lotId: part.sourceId }}>
        {part.sourceCode}
      </Link>
    );
  return (
    <Link to="/lineage" search={{ of: `product:${part.sourceId}` }}>
      {part.sourceCode}
    </Link>
  );
}

const sourceWords: Record<LotPart['source'], string> = { day: 'day', lot: 'lot', product: 'product' };

/** More parts than these are folded away. */
const shownUnfolded = 8;

function Folded({ summary, children }: { summary: string | null; children: ReactNode }) {
  if (summary === null) return children;
  return (
    <details className="new-product">
      <summary>{summary}</summary>
      {children}
    </details>
  );
}

/** What a lot was made from, held against its own weighing, and what was made of it or lost. */
export function LotParts({ lot }: { lot: Lot }) {
  const { data: mill } = useSuspenseQuery(millQuery);
  const format = useFormat();
  const booksChanged = useBooksChanged();
  const mass = (kg: string): string => format.quantity('lotMassKg', kg);
  return (
    <>
      <h2>What it was made from</h2>
      <FindingList
        label="Parts against the lot’s own weighing"
        findings={partsAgainstWeighing({
          code: lot.code,
          dryMassKg: lot.dryMassKg,
          parts: lot.parts,
          scaleUncertaintyFrac: Number(mill.lotScaleUncertaintyFrac),
        })}
      />
      <Folded
        summary={
          lot.parts.length > shownUnfolded
            ? `${lot.parts.length} parts, ${mass(sumOf(lot.parts.map(({ dryMassKg }) => dryMassKg)).toFixed())} dry in all`
            : null
        }
      >
        <DataTable
          caption="Made from, dry"
          narrow="stack"
          empty="Nothing is on record. Say below which days, lots or products it was made from, so that it can be followed."
          columns={[
            { key: 'source', label: 'From', align: 'start' },
            { key: 'kind', label: 'Kind', align: 'start' },
            { key: 'on', label: 'Taken on', align: 'start' },
            { key: 'mass', label: 'Dry mass', align: 'end' },
            { key: 'more', label: 'More', align: 'start' },
          ]}
          rows={lot.parts.map((part) => ({
            key: part.id,
            cells: {
              source: <SourceLink part={part} />,
              kind: sourceWords[part.source],
              on: format.date(part.takenOn),
              mass: mass(part.dryMassKg),
              more: (
                <ConfirmButton
                  sends="DELETE /lots/:id/parts/:partId"
                  label={`Give back ${part.source === 'day' ? format.date(part.sourceCode) : part.sourceCode}`}
                  question={`Give ${mass(part.dryMassKg)} back to ${part.sourceCode}? The lot’s own mass stays.`}
                  confirmLabel="Give it back"
                  onConfirm={async () => {
                    await send(
                      api.lots[':id'].parts[':partId'].$delete({ param: { id: lot.id, partId: part.id } }),
                    );
                    await booksChanged();
                  }}
                />
              ),
            },
          }))}
        />
      </Folded>
      <AddPart lot={lot} />
      {lot.takenByLots.length === 0 && lot.writeOffs.length === 0 ? null : (
        <DataTable
          caption="Taken from it"
          narrow="stack"
          columns={[
            { key: 'to', label: 'Into', align: 'start' },
            { key: 'on', label: 'On', align: 'start' },
            { key: 'mass', label: 'Dry mass', align: 'end' },
          ]}
          rows={[
            ...lot.takenByLots.map((part) => ({
              key: part.id,
              cells: {
                to: (
                  <Link to="/lots/$lotId" params={{ lotId: part.lotId }}>
                    Lot {part.lotCode}
                  </Link>
                ),
                on: format.date(part.takenOn),
                mass: mass(part.dryMassKg),
              },
            })),
            ...lot.writeOffs.map((one) => ({
              key: one.id,
              cells: {
                to: `Written off: ${one.reason}`,
                on: format.date(one.writtenOffOn),
                mass: mass(one.massKg),
              },
            })),
          ]}
        />
      )}
      <p>
        <Link to="/lineage" search={{ of: `lot:${lot.id}` }}>
          Where {lot.code} came from and what became of it
        </Link>
      </p>
    </>
  );
}
