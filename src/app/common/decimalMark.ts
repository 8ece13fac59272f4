// Which decimal mark the builder's spreadsheet reads: that of the browser's language.
import type { DecimalMark } from '../../files/csv.ts'

export const decimalMark = (language: string): DecimalMark =>
  new Intl.NumberFormat(language).format(1.5).includes(',') ? ',' : '.'
