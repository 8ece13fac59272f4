// Milliseconds of processor time for the coupled run of heat and power, per mode, of each example: cold (first run of the process for
// the first example) and the median of nine more.
import { runPower } from '../../src/job/power.ts'
import { DEMOS } from '../../src/library/demos.ts'

export function powerTimes() {
  return Object.entries(DEMOS).map(([lamp, make]) => {
    const one = () => {
      const began = process.cpuUsage()
      const { modes } = runPower(make())
      const { user, system } = process.cpuUsage(began)
      return (user + system) / 1000 / modes.length
    }
    const first = one()
    const rest = Array.from({ length: 9 }, one).sort((a, b) => a - b)
    return { lamp, 'first, ms a mode': Math.round(first), 'median, ms a mode': Math.round(rest[4]!) }
  })
}
