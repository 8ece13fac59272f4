// The danger sheets side by side: findings, then row by row in the words of the danger sheet.
import { useMemo } from 'react'
import { COLUMN_LETTERS, ROUGH_NOTE } from '../../report/compare.ts'
import { DANGER_ROWS_NOTE, dangerGroups } from '../../report/compareDanger.ts'
import { type FindingRow, findingRows, foundWords } from '../../report/compareFindings.ts'
import { FIRST_RULE } from '../../report/danger.ts'
import { type ComparedLamp, useReads } from '../store/compare.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { WordTable } from './WordTable.tsx'

export function DangersPane({ lamps }: { lamps: readonly ComparedLamp[] }) {
  const system = useUnitSystem()
  const columns = useReads()
  const groups = useMemo(() => dangerGroups(columns, system), [columns, system])
  const findings = useMemo(() => findingRows(columns, system), [columns, system])
  if (groups.length === 0)
    return <p className="compare-quiet">The dangers are being read. Light and heat come first.</p>
  return (
    <div className="compare-tables">
      {columns.some((c) => c?.danger?.rough) && <p className="compare-rough">{ROUGH_NOTE}</p>}
      {groups.slice(0, 1).map((group) => (
        <Group key={group.title} lamps={lamps} {...group} />
      ))}
      <div className="compare-findings">
        <WordTable caption="Findings" lamps={lamps} rows={findings.map((row) => findingOf(row))} />
      </div>
      {groups.slice(1).map((group) => (
        <Group key={group.title} lamps={lamps} {...group} />
      ))}
      <p className="compare-quiet">{DANGER_ROWS_NOTE}</p>
      <p className="compare-quiet">{FIRST_RULE}</p>
    </div>
  )
}

const Group = ({
  title,
  rows,
  lamps,
}: ReturnType<typeof dangerGroups>[number] & { lamps: readonly ComparedLamp[] }) => (
  <WordTable caption={title} lamps={lamps} rows={rows.map((row) => ({ ...row, key: row.name }))} />
)

/** What each lamp's finding says stands behind the first title, where it is not the same. */
function findingOf({ rule, title, severity, lamps, marks }: FindingRow) {
  const titles = lamps.flatMap((l, i) =>
    l === null || l === 'none' ? [] : l.titles.map((words) => ({ letter: COLUMN_LETTERS[i], words })),
  )
  const isMore = titles.some(({ words }) => words !== title)
  return {
    key: rule,
    name: (
      <span className="compare-finding" data-severity={severity}>
        {title}
        {isMore && (
          <details>
            <summary aria-label={`What each lamp’s finding says: ${title}`}>each lamp</summary>
            <ul>
              {titles.map(({ letter, words }) => (
                <li key={`${letter} ${words}`}>
                  <b>{letter}</b> {words}
                </li>
              ))}
            </ul>
          </details>
        )}
      </span>
    ),
    cells: lamps.map(foundWords),
    marks,
  }
}
