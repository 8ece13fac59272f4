import { readings, useReadings } from '../store/readings.ts'
import { Button } from '../ui/Button.tsx'

/** Below the parts: of the lamp once it is built. */
export function ReadingsButton() {
  const open = useReadings((s) => s.open)
  return (
    <div className="readings-link">
      <Button
        hint="What to read with a lux meter, and what the readings say of the built lamp (Z)"
        onPress={() => readings.setState({ open: !open })}
      >
        {open ? 'Close the readings' : 'Measure the built lamp…'}
      </Button>
    </div>
  )
}
