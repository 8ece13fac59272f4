// What the page prints, whichever view is shown: the answers on one page, then the chosen drawings at a scale. It is there only while it is printed.

import { flushSync } from 'react-dom'
import { version } from '../../../package.json'
import { counted } from '../../checks/words.ts'
import type { Sheet } from '../../job/beam/sheet.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Figure } from '../../report/book/model.ts'
import { planFigure } from '../../report/book/planFigure.ts'
import { sectionFigure } from '../../report/book/sectionFigure.ts'
import { faceText, lengthWords } from '../../report/faceText.ts'
import { lightWords } from '../../report/light.ts'
import { modeWords } from '../../report/power.ts'
import { figureRows, ledgerRows } from '../../report/sheetRows.ts'
import { degreesText } from '../common/format.ts'
import { usePower } from '../store/power.ts'
import { useSevere } from '../store/severe.ts'
import { useDesign, useResult } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { CautionList } from '../ui/CautionList.tsx'
import { FigureSvg } from '../ui/FigureSvg.tsx'
import { shell, useShell } from './page.ts'
import { PrintedSevere } from './Severe.tsx'
import './printedPage.css'

/** Drawn before the browser takes the page; a panel that prints itself alone stays as it is. */
export function followPrinting(): void {
  window.addEventListener('beforeprint', () => {
    if (document.documentElement.dataset['print'] === undefined) flushSync(() => shell.setState({ printing: true }))
  })
  window.addEventListener('afterprint', () => shell.setState({ printing: false }))
}

export function PrintedPage() {
  const printing = useShell((s) => s.printing)
  return printing ? <Pages /> : null
}

function Pages() {
  const system = useUnitSystem()
  const lamp = useDesign((s) => s.lamp)
  const { section, plan } = useShell((s) => s.printed)
  return (
    <div className="printed">
      <PrintedSevere more="on the first page" />
      <div>
        <Answers lamp={lamp} />
        {section && <Drawing name="Section" figure={sectionFigure(lamp, [], { toScale: true, system })} />}
        {plan && (
          <Drawing name="Plan of the face, from the front" figure={planFigure(lamp, { toScale: true, system })} />
        )}
      </div>
    </div>
  )
}

function Answers({ lamp }: { lamp: Lamp }) {
  const system = useUnitSystem()
  const sheet = useResult((s) => s.sheet)
  const stale = useResult((s) => s.stale)
  const day = new Date().toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' })
  return (
    <>
      <h1 translate="no">{lamp.name}</h1>
      <p>
        {faceText(lamp.face, lengthWords(system))} · {counted(lamp.boards.length, 'board')} · printed on {day} by
        Lampwright {version}. Figures are estimates for planning, ± at 95 %.
      </p>
      {sheet && !stale ? (
        <Light sheet={sheet} />
      ) : (
        <p>No figures of this lamp yet: the trace had not begun to answer.</p>
      )}
      <Modes />
      <Findings />
      <h2>Before you light it, and whenever you carry it</h2>
      <CautionList />
    </>
  )
}

function Light({ sheet }: { sheet: Sheet }) {
  const system = useUnitSystem()
  return (
    <>
      <p>
        {lightWords(sheet.light, system)}.
        {sheet.state === 'settled' ? '' : ' The trace had not settled: the figures are rough.'}
      </p>
      <div className="printed-tables">
        <Rows
          title="Beam"
          rows={figureRows(sheet, system).map(([name, value, pm, unit]) => [name, `${value} ${unit}`, pm])}
        />
        <Rows
          title="Where the light goes"
          rows={ledgerRows(sheet.ledger).map((r) => [r[0], `${r[1]} %`, `${r[4]} lm`])}
        />
      </div>
    </>
  )
}

function Rows({ title, rows }: { title: string; rows: readonly (readonly (string | undefined)[])[] }) {
  return (
    <table>
      <caption>{title}</caption>
      <tbody>
        {rows.map(([name, ...cells]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            {cells.map((cell, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: columns have no other name
              <td key={i}>{cell}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function Modes() {
  const system = useUnitSystem()
  const report = usePower((s) => (s.stale ? null : s.report))
  if (!report || report.modes.length === 0) return null
  return (
    <>
      <h2>How long it runs</h2>
      <ul>
        {report.modes.map((m) => (
          <li key={m.id}>{modeWords(m, (c) => degreesText(c, system))}</li>
        ))}
      </ul>
    </>
  )
}

function Findings() {
  const severe = useSevere()
  if (severe === null) return <p>Nothing was known of its dangers yet.</p>
  return (
    <>
      <h2>{severe.length === 0 ? 'No severe finding' : `Severe findings: ${severe.length}`}</h2>
      <ul>
        {severe.map((title) => (
          <li key={title}>{title}</li>
        ))}
      </ul>
    </>
  )
}

function Drawing({ name, figure }: { name: string; figure: Figure }) {
  return (
    <section className="printed-drawing">
      <h2>
        {name}, {figure.scale}
      </h2>
      <FigureSvg figure={figure} />
      <p>{figure.words} The scale holds when it is printed at 100 %; the bar on the drawing tells.</p>
    </section>
  )
}
