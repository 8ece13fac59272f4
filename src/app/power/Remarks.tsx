import { type Remark, remarkWords } from '../../report/wiringTable.ts'

/** What was found about a part, beside it; the severity in words. */
export function Remarks({ remarks }: { remarks: readonly Remark[] }) {
  return (
    <ul className="power-remarks">
      {remarks.map((r) => (
        <li key={r.title} data-severity={r.severity}>
          {remarkWords(r)}
        </li>
      ))}
    </ul>
  )
}
