import { type Html, type HtmlValue, html } from "./template.js";

export interface Column<Row> {
  readonly heading: string;
  readonly cell: (row: Row) => HtmlValue;
  /** The column that names the row: a row header for people who listen to the table. */
  readonly names?: boolean;
  readonly numeric?: boolean;
  /** Share of the table's width in per cent, so that tables of one kind stand in line under each other. */
  readonly width?: number;
}

/** A table of no more rows than this is kept together on paper. */
const SHORT_ROWS = 12;

/**
 * A table that becomes one card per row on a narrow screen. The roles are spelled out because a cell that is laid out as
 * a block is no longer announced as a cell.
 */
export function table<Row>(caption: HtmlValue, columns: readonly Column<Row>[], rows: readonly Row[]): Html {
  return html`<table role="table"${rows.length <= SHORT_ROWS && html` class="short"`}>
<caption>${caption}</caption>
<thead role="rowgroup"><tr role="row">${columns.map(
    (column) =>
      html`<th role="columnheader" scope="col"${numericClass(column)}${
        column.width !== undefined && html` style="width:${column.width}%"`
      }>${column.heading}</th>`,
  )}</tr></thead>
<tbody role="rowgroup">
${rows.map((row) => html`<tr role="row">${columns.map((column) => tableCell(column, row))}</tr>\n`)}</tbody>
</table>
`;
}

function tableCell<Row>(column: Column<Row>, row: Row): Html {
  const content = html`<span class="label" aria-hidden="true">${column.heading}</span><span class="content">${column.cell(row)}</span>`;
  if (column.names) return html`<th role="rowheader" scope="row">${content}</th>`;
  return html`<td role="cell"${numericClass(column)}>${content}</td>`;
}

function numericClass<Row>(column: Column<Row>): Html | undefined {
  return column.numeric ? html` class="numeric"` : undefined;
}
