import { compare, useCompare } from '../store/compare.ts'
import { Button } from '../ui/Button.tsx'

export function CompareButton() {
  const open = useCompare((s) => s.open)
  return (
    <div className="compare-link">
      <Button
        hint="This lamp beside others or its own earlier states: what changed and what it does"
        onPress={() => compare.setState({ open: !open })}
      >
        {open ? 'Close comparison' : 'Compare…'}
      </Button>
    </div>
  )
}
