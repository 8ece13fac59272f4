import { power, usePower } from '../store/power.ts'
import { Push } from '../ui/Button.tsx'

/** Opens what these numbers come to. */
export function PowerDoor() {
  const open = usePower((s) => s.open)
  return (
    <div className="parts-buttons power-door">
      <Push
        hint="How long each mode lasts, how hot it gets, the wiring (W)"
        onPush={() => power.setState({ open: !open })}
      >
        {open ? 'Close heat and power' : 'See heat and power…'}
      </Push>
    </div>
  )
}
