import { sweep, useSweep } from '../store/sweep.ts'
import { Push } from '../ui/Button.tsx'

/** Stands under the parts: their numbers are what is tried. */
export function SweepButton() {
  const open = useSweep((s) => s.open)
  return (
    <div className="sweep-door">
      <Push
        hint="One or two of these numbers over a range: a curve, or a map (T)"
        onPush={() => sweep.setState({ open: !open })}
      >
        {open ? 'Close the range' : 'Try a range…'}
      </Push>
    </div>
  )
}
