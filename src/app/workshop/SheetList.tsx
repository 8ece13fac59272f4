// The list on the left of drawings and solids: what there is, and what can't be made.
interface Listed {
  name: string
  title: string
  ok: boolean
  /** Under the title: its size, what it is for. */
  words?: string
}

interface SheetListProps {
  label: string
  rows: readonly Listed[]
  chosen: string | undefined
  onChoose(name: string): void
}

/** A button elsewhere that chooses a row and goes away with it leaves the focus on the row. */
export const focusRow = (name: string): void =>
  document.querySelector<HTMLElement>(`.workshop-list [data-name="${CSS.escape(name)}"]`)?.focus()

export function SheetList({ label, rows, chosen, onChoose }: SheetListProps) {
  return (
    <ul className="workshop-list" aria-label={label}>
      {rows.map((row) => (
        <li key={row.name}>
          <button
            type="button"
            data-name={row.name}
            aria-pressed={row.name === chosen}
            data-refused={row.ok ? undefined : true}
            onClick={() => onChoose(row.name)}
          >
            {row.title}
            <small>{row.ok ? row.words : 'can’t be made'}</small>
          </button>
        </li>
      ))}
    </ul>
  )
}
