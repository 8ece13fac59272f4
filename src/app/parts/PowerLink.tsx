import { power, usePower } from '../store/power.ts'
import { Button } from '../ui/Button.tsx'

/** Opens the results of these settings. */
export function PowerLink() {
  const open = usePower((s) => s.open)
  return (
    <div className="parts-buttons power-link">
      <Button
        hint="How long each mode lasts, how hot it gets, the wiring (W)"
        onPress={() => power.setState({ open: !open })}
      >
        {open ? 'Hide heat and power' : 'See heat and power…'}
      </Button>
    </div>
  )
}
