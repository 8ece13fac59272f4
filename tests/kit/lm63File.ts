// Photometric files for tests. Invented, but for the worked one.

/** 1000 cos⁴ γ at every 10°, as printed in row 1.96 of our check values (derived). */
export const COS4_CD = [1000, 940.602, 779.728, 562.5, 344.363, 170.714, 62.5, 13.684, 0.909, 0]

/** Lines 1 to 11. */
export const COS4_LINES: readonly string[] = [
  'IES:LM-63-2019',
  '[TEST] invented',
  '[TESTLAB] none',
  '[ISSUEDATE] never',
  '[MANUFAC] nobody',
  'TILT=NONE',
  '1 -1 1 10 1 1 2 0 0 0',
  '1 1.00001 0',
  '0 10 20 30 40 50 60 70 80 90',
  '0',
  COS4_CD.join(' '),
]

/** The worked file with single lines replaced; line numbers count from 1 as in messages. */
export const withLines = (lines: Record<number, string | null>): string =>
  COS4_LINES.flatMap((line, i) => {
    const other = lines[i + 1]
    return other === null ? [] : [other ?? line]
  }).join('\r\n')

export interface FileParts {
  first?: string
  vertical: readonly number[]
  horizontal?: readonly number[]
  /** One row for each horizontal angle. */
  candela: readonly (readonly number[])[]
}

export function fileOf({ first = 'IES:LM-63-2019', vertical, horizontal = [0], candela }: FileParts): string {
  const counts = `${vertical.length} ${horizontal.length}`
  const head = [first, ...COS4_LINES.slice(1, 6), `1 -1 1 ${counts} 1 2 0 0 0`, '1 1 0']
  return [...head, vertical.join(' '), horizontal.join(' '), ...candela.map((row) => row.join(' '))].join('\r\n')
}
