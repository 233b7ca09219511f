/**
 * Cells of a block copied from a spreadsheet: tabs between cells, line breaks between rows, quotes
 * round a cell that holds either. Blank lines at the end are not rows.
 *
 * Text without a tab is split at `;` or `,` only where `separated` says that the block starts in
 * the date column, and only where every line has the same number of them: a decimal comma in a
 * single column stays what it is.
 */
export function parseBlock(text: string, separated = false): string[][] {
  const separator = text.includes('\t') || !separated ? '\t' : plainSeparator(text)
  const rows: string[][] = []
  let row: string[] = []
  let cell = ''
  let quoted = false
  const endCell = () => {
    row.push(cell.trim())
    cell = ''
  }
  const endRow = () => {
    endCell()
    rows.push(row)
    row = []
  }

  for (let i = 0; i < text.length; i++) {
    const char = text[i]!
    if (quoted) {
      if (char !== '"') cell += char
      else if (text[i + 1] === '"') {
        cell += '"'
        i++
      } else quoted = false
    } else if (char === '"' && cell === '') quoted = true
    else if (char === separator) endCell()
    else if (char === '\n' || char === '\r') {
      if (char === '\r' && text[i + 1] === '\n') i++
      endRow()
    } else cell += char
  }
  if (cell !== '' || row.length > 0) endRow()
  while (rows.length > 0 && rows.at(-1)!.every((c) => c === '')) rows.pop()
  return rows.map((r) => r.map((c) => c.replace(/\s*[\r\n]+\s*/g, ' ')))
}

function plainSeparator(text: string): string {
  const lines = text.split(/\r\n|\r|\n/).filter((line) => line.trim() !== '')
  for (const candidate of [';', ',']) {
    const counts = lines.map((line) => line.split(candidate).length - 1)
    if (counts[0]! > 0 && counts.every((count) => count === counts[0])) return candidate
  }
  return '\t'
}
