import { sweep, useSweep } from '../store/sweep.ts'
import { Button } from '../ui/Button.tsx'

/** Below the parts, whose numbers can be swept. */
export function SweepButton() {
  const open = useSweep((s) => s.open)
  return (
    <div className="sweep-link">
      <Button
        hint="One or two of these numbers over a range: a curve, or a map (T)"
        onPress={() => sweep.setState({ open: !open })}
      >
        {open ? 'Close the range' : 'Try a range…'}
      </Button>
    </div>
  )
}
