import { optimize, useOptimize } from '../store/optimize.ts'
import { Button } from '../ui/Button.tsx'

/** Below the parts, whose numbers and choices can be searched. */
export function OptimizeButton() {
  const open = useOptimize((s) => s.open)
  const isRunning = useOptimize((s) => s.state === 'running' || s.state === 'waiting')
  return (
    <div className="optimize-link">
      <Button
        hint="Moves numbers and choices of the lamp until what you want is at its best (S)"
        onPress={() => optimize.setState({ open: !open })}
      >
        {open ? 'Close the search' : isRunning ? 'Searching…' : 'Optimize…'}
      </Button>
    </div>
  )
}
