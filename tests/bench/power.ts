// Milliseconds of processor time for the coupled run of heat and power, per mode, of each example: cold (first run of the process for
// the first example) and the median of nine more; and of the pilot that tells, before a mode's light is traced, what stays in the lamp.
import { keptByPilot } from '../../src/job/beam/lightKept.ts'
import { runPower } from '../../src/job/power/run.ts'
import { DEMOS } from '../../src/library/demos.ts'

export function powerTimes() {
  return Object.entries(DEMOS).map(([lamp, make]) => {
    const timed = (work: () => number) => {
      const began = process.cpuUsage()
      const parts = work()
      const { user, system } = process.cpuUsage(began)
      return (user + system) / 1000 / parts
    }
    const one = () => timed(() => runPower(make()).modes.length)
    const middle = (work: () => number) =>
      Math.round(Array.from({ length: 9 }, () => timed(work)).sort((a, b) => a - b)[4]!)
    const first = one()
    return {
      lamp,
      'first, ms a mode': Math.round(first),
      'median, ms a mode': middle(() => runPower(make()).modes.length),
      'pilot, ms': middle(() => {
        keptByPilot(make())
        return 1
      }),
    }
  })
}
