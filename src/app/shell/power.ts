// Connects heat and power to this page. The beam's first figures come first; then both run in parallel.
import { openPowerClient } from '../../job/power/client.ts'
import { followPower } from '../power/followPower.ts'
import { danger } from '../store/danger.ts'
import { missing } from '../store/missing.ts'
import { power } from '../store/power.ts'
import { design, result } from '../store/stores.ts'
import { sweep } from '../store/sweep.ts'

// Only one panel is open at a time.
power.subscribe((now, before) => {
  if (!now.open || before.open) return
  sweep.setState({ open: false })
  danger.setState({ open: false })
})
for (const other of [sweep, danger])
  other.subscribe((now: { open: boolean }, before: { open: boolean }) => {
    if (now.open && !before.open) power.setState({ open: false })
  })

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
