// Where the columns don't fit side by side: which of them is shown.
import { type Column, display, useDisplay } from '../store/display.ts'

const COLUMNS: readonly { key: Column; name: string }[] = [
  { key: 'parts', name: 'Parts' },
  { key: 'view', name: 'View' },
  { key: 'sheet', name: 'Sheet' },
]

export function ColumnSwitch() {
  const shown = useDisplay((s) => s.column)
  return (
    <nav className="shell-columns" aria-label="Columns">
      {COLUMNS.map(({ key, name }) => (
        <button
          key={key}
          type="button"
          className="ui-chip"
          aria-pressed={key === shown}
          onClick={() => display.showColumn(key)}
        >
          {name}
        </button>
      ))}
    </nav>
  )
}
