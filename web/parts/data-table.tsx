import { Fragment, useId } from 'react';
import type { ReactNode } from 'react';
import { useOverflow } from '../lib/use-overflow.ts';

export interface DataColumn {
  key: string;
  /** With its unit, for example "Dry mass, kg". */
  label: string;
  /** `end` for figures. */
  align: 'start' | 'end';
}

export interface DataRow {
  /** Stable where rows come and go; otherwise the place serves. */
  key?: string;
  /** section: a heading row across the table. */
  style?: 'plain' | 'section' | 'subtotal' | 'total';
  cells: Record<string, ReactNode>;
  /** Small print under the row, across the table. */
  detail?: ReactNode;
}

/** A text longer than this goes under its heading on a phone, not beside it. */
const longestBeside = 28;
const isProse = (cell: ReactNode): boolean => typeof cell === 'string' && cell.length > longestBeside;

/** What is more than a text is held together, so that it wraps as one where the cell is laid out as a row. */
const contentOf = (cell: ReactNode): ReactNode =>
  cell === null || cell === undefined || typeof cell === 'string' || typeof cell === 'number' ? (
    cell
  ) : (
    <span>{cell}</span>
  );

/** A table of up to so many rows is not parted between pages on paper. */
const longestUnbroken = 12;

/**
 * A ruled table. The first column heads its row. On a phone it scrolls
 * sideways, or with `narrow="stack"` sets each row out as a short list. Takes a
 * report's table block as it is.
 */
export function DataTable(props: {
  caption: string;
  columns: readonly DataColumn[];
  rows: readonly DataRow[];
  narrow?: 'scroll' | 'stack';
  /** Stands in place of the rows where there are none. */
  empty?: string;
  /** Ruled all round, to be filled in on paper. */
  boxed?: boolean;
}) {
  const { caption, columns, rows, narrow = 'scroll', empty = 'Nothing here yet.', boxed = false } = props;
  const captionId = useId();
  const { ref, overflows } = useOverflow<HTMLDivElement>();
  const scrolling = overflows
    ? ({ role: 'region', 'aria-labelledby': captionId, tabIndex: 0 } as const)
    : undefined;
  // A table laid out as blocks is no table to some browsers unless it is told its roles again.
  const role = (name: string): string | undefined =>
    narrow === 'stack' && rows.length > 0 ? name : undefined;
  return (
    <div className={rows.length > longestUnbroken ? 'table-block' : 'table-block short'}>
      <div className="table-scroll" ref={ref} data-overflows={overflows} {...scrolling}>
        <table
          className={`data-table${narrow === 'stack' ? ' stack' : ''}${boxed ? ' boxed' : ''}`}
          role={role('table')}
        >
          <caption id={captionId}>{caption}</caption>
          {rows.length === 0 ? null : (
            <thead role={role('rowgroup')}>
              <tr role={role('row')}>
                {columns.map((column) => (
                  <th key={column.key} scope="col" role={role('columnheader')} className={column.align}>
                    {column.label}
                  </th>
                ))}
              </tr>
            </thead>
          )}
          {sectionsOf(rows).map((section, index) => (
            <tbody key={index} role={role('rowgroup')}>
              {section.map((row, place) => (
                <Row key={row.key ?? place} row={row} columns={columns} role={role} />
              ))}
            </tbody>
          ))}
        </table>
      </div>
      {rows.length === 0 ? <p className="table-empty">{empty}</p> : null}
    </div>
  );
}

/** Rows parted before every section row, so that a section's heading heads its own group. */
function sectionsOf(rows: readonly DataRow[]): DataRow[][] {
  const sections: DataRow[][] = [];
  for (const row of rows) {
    const current = sections.at(-1);
    if (current === undefined || row.style === 'section') sections.push([row]);
    else current.push(row);
  }
  return sections;
}

function Row(props: {
  row: DataRow;
  columns: readonly DataColumn[];
  role: (name: string) => string | undefined;
}) {
  const { row, columns, role } = props;
  const style = row.style ?? 'plain';
  const hasDetail = row.detail !== undefined && row.detail !== null && row.detail !== '';
  const detail = hasDetail ? (
    <tr className="detail" role={role('row')}>
      <td colSpan={columns.length} role={role('cell')}>
        {row.detail}
      </td>
    </tr>
  ) : null;
  if (style === 'section') {
    return (
      <Fragment>
        <tr className="section" role={role('row')}>
          <th colSpan={columns.length} scope="rowgroup" role={role('rowheader')}>
            {columns.map((column) => row.cells[column.key]).find((cell) => cell !== undefined && cell !== '')}
          </th>
        </tr>
        {detail}
      </Fragment>
    );
  }
  return (
    <Fragment>
      <tr className={hasDetail ? `${style} has-detail` : style} role={role('row')}>
        {columns.map((column, index) =>
          index === 0 ? (
            <th key={column.key} scope="row" className={column.align} role={role('rowheader')}>
              {row.cells[column.key]}
            </th>
          ) : (
            <td
              key={column.key}
              className={isProse(row.cells[column.key]) ? `${column.align} prose` : column.align}
              data-label={column.label}
              role={role('cell')}
            >
              {contentOf(row.cells[column.key])}
            </td>
          ),
        )}
      </tr>
      {detail}
    </Fragment>
  );
}
