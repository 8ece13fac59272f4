import { sweep, useSweep } from '../store/sweep.ts'
import { Button } from '../ui/Button.tsx'

/** Stands under the parts: their numbers are what is tried. */
export function SweepButton() {
  const open = useSweep((s) => s.open)
  return (
    <div className="sweep-door">
      <Button
        hint="One or two of these numbers over a range: a curve, or a map (T)"
        onPress={() => sweep.setState({ open: !open })}
      >
        {open ? 'Close the range' : 'Try a range…'}
      </Button>
    </div>
  )
}
