import type { WireRun } from '../../electrothermal/result.ts'
import { wiringCsv } from '../../report/wiringTable.ts'

export function saveWiring(wiring: readonly WireRun[]): void {
  const url = URL.createObjectURL(new Blob([wiringCsv(wiring)], { type: 'text/csv' }))
  const link = document.createElement('a')
  link.href = url
  link.download = 'wiring.csv'
  link.click()
  URL.revokeObjectURL(url)
}
