import type { Feature, Image } from 'write-excel-file/node';
import { getCellAddress, sanitizeTextContent } from 'write-excel-file/utility';

/**
 * How sheets are printed and filtered: as wide as a page, the header on every page, the sheet's name and a notice at the
 * head, the page's number at the foot, and a filter on every column. The first sheet has words only.
 * Source: ISO/IEC 29500-1, 18.3.1.99 (order of what is in a worksheet), 18.3.1.46 (headers and footers), 18.2.6
 * (print titles as defined names).
 */
export function printedPages({
  head,
  tables,
}: {
  head: string;
  /** In the order of their sheets, which begin after the first. */
  tables: readonly { name: string; columns: number; rows: number }[];
}): Feature<Image['content']> {
  const name = (text: string): string => `'${text.replaceAll("'", "''")}'`;
  // An ampersand begins a code there: a doubled one is itself.
  const header = sanitizeTextContent(`&L${head.replaceAll('&', '&&')}&R&A`);
  const headerFooter = `<headerFooter><oddHeader>${header}</oddHeader><oddFooter>&amp;C&amp;P / &amp;N</oddFooter></headerFooter>`;
  const titles = tables.map(
    (table, at) =>
      `<definedName name="_xlnm.Print_Titles" localSheetId="${at + 1}">${sanitizeTextContent(`${name(table.name)}!$1:$1`)}</definedName>`,
  );
  return {
    files: {
      transform: {
        'xl/worksheets/sheet{id}.xml': {
          transform: (xml, _options, { sheetIndex }) => {
            const table = tables[sheetIndex - 1];
            const filter =
              table === undefined || table.rows === 0
                ? ''
                : `<autoFilter ref="A1:${getCellAddress(table.rows, table.columns - 1)}"/>`;
            return xml
              .replace(/<worksheet [^>]*>/, '$&<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>')
              .replace('</sheetData>', `</sheetData>${filter}`)
              .replace(/<pageSetup [^>]*\/>/, (setup) =>
                setup.replace('/>', ` fitToWidth="1" fitToHeight="0"/>${headerFooter}`),
              );
          },
        },
        'xl/workbook.xml': {
          transform: (xml) =>
            xml.replace('</sheets>', `</sheets><definedNames>${titles.join('')}</definedNames>`),
        },
      },
    },
  };
}
