import { tolerances, useTolerances } from '../store/tolerances.ts'
import { Button } from '../ui/Button.tsx'

/** Below the parts, which are built within tolerances. */
export function ToleranceButton() {
  const open = useTolerances((s) => s.open)
  return (
    <div className="tolerances-link">
      <Button
        hint="How the figures spread when the lamp is built, and what to hold tighter (J)"
        onPress={() => tolerances.setState({ open: !open })}
      >
        {open ? 'Close tolerances' : 'Tolerances…'}
      </Button>
    </div>
  )
}
