// Connects heat and power to this page. The beam's first figures come first; then both run in parallel.
import { openPowerClient } from '../../job/power/client.ts'
import { followPower } from '../power/followPower.ts'
import { missing } from '../store/missing.ts'
import { power } from '../store/power.ts'
import { design, result } from '../store/stores.ts'

export function startPower(): void {
  const isDue = () => result.getState().sheet !== null || result.getState().trace === 'failed' || power.getState().open
  let begun = false
  const begin = () => {
    if (begun || !isDue()) return
    begun = true
    offs.forEach((off) => void off())
    followPower(design, power, result, missing, openPowerClient)
  }
  const offs = [result.subscribe(begin), power.subscribe(begin)]
  begin()
}
