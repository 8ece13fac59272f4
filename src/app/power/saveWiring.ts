import { type WiringRow, wiringCsv } from '../../report/wiringTable.ts'
import { decimalMark } from '../common/decimalMark.ts'
import { saveFile } from '../common/saveFile.ts'

export const saveWiring = (rows: readonly WiringRow[], missing: readonly string[]): void =>
  saveFile('wiring.csv', wiringCsv(rows, missing, decimalMark(navigator.language)), 'text/csv')
