// What to beware of in this lamp, as a list: in the sheet, the footer and in print.

import { cautionsFor } from '../../checks/cautions.ts'
import { useDesign } from '../store/stores.ts'

export function CautionList({ className }: { className?: string }) {
  const lamp = useDesign((s) => s.lamp)
  return (
    <ul className={className}>
      {cautionsFor(lamp).map((c) => (
        <li key={c.id}>{c.text}</li>
      ))}
    </ul>
  )
}
