import { type WiringRow, wiringCsv } from '../../report/wiringTable.ts'

export function saveWiring(rows: readonly WiringRow[], missing: readonly string[]): void {
  const url = URL.createObjectURL(new Blob([wiringCsv(rows, missing)], { type: 'text/csv' }))
  const link = document.createElement('a')
  link.href = url
  link.download = 'wiring.csv'
  link.click()
  URL.revokeObjectURL(url)
}
