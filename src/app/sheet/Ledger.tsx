import type { ReactNode } from 'react'
import type { Sheet } from '../../job/beam/sheet.ts'
import { T95 } from '../../num/stats.ts'
import { PARTS_TITLE } from '../../report/figures.ts'
import { formatFigure, formatValue, THIN, toDecimals, toDigits, withUnit } from '../common/format.ts'
import { useSheet } from './contexts.ts'
import { FLOW, type FlowBranch, inOrder, type LedgerLine, layFlow, leavesAt, lossPath } from './model/flow.ts'
import { Part } from './Part.tsx'
import { WhileVisible } from './WhileVisible.tsx'
import { lineWords } from './words.ts'

/** Opacity of the delivered strands, from the left: the beam itself is the strongest. */
const STRENGTH = [1, 0.72, 0.5, 0.36, 0.28]

const TABLE = (
  <Part level={4} title="As a table" open={false}>
    <WhileVisible>
      <LedgerTable />
    </WhileVisible>
  </Part>
)

const PARTS = (
  <Part level={4} title={PARTS_TITLE} open={false}>
    <WhileVisible>
      <PartTable />
    </WhileVisible>
  </Part>
)

export function Ledger() {
  const { sheet, widthPx } = useSheet()
  return (
    <>
      <FlowPicture ledger={sheet.ledger} widthPx={widthPx} sheet={sheet} />
      {TABLE}
      <p className="sheet-quiet">{closingText(sheet.ledger)}</p>
      {sheet.parts?.length ? PARTS : null}
    </>
  )
}

/** So small, with its ±, that more digits would only be noise. */
const isTrace = (l: LedgerLine): boolean => Math.abs(l.share.value) + T95 * l.share.se < 1e-5

/** Whether the ledger closes, to three decimals; with a warning where it does not. */
export function closingText(ledger: readonly LedgerLine[]): string {
  const sum = 100 * ledger.reduce((all, l) => all + l.share.value, 0)
  const text = `Sums to ${sum.toFixed(3)} %`
  return Math.abs(sum - 100) < 5e-4
    ? `${text} of the flux emitted.`
    : `${text}: the ledger does not close. Do not trust this run.`
}

function FlowPicture({ ledger, widthPx, sheet }: { ledger: readonly LedgerLine[]; widthPx: number; sheet: Sheet }) {
  const trunk = Math.round(widthPx * 0.31)
  const toX = trunk + 12
  const textX = trunk + 20
  const flow = layFlow(ledger, trunk)
  const delivered = flow.branches.filter((b) => b.delivered)
  const out = sheet.figures.fluxOutLm
  const emitted = sheet.figures.emittedLm
  return (
    <svg
      className="sheet-flow"
      width={widthPx}
      height={flow.heightPx}
      role="img"
      aria-label={`Where each lumen goes. ${flow.branches.map((b) => `${lineWords(b.line)} ${formatValue(b.line.share.value, '%')}`).join(', ')}.`}
    >
      <defs>
        <pattern id="sheet-hatch" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line x1="0" y1="0" x2="0" y2="5" className="sheet-hatch-line" />
        </pattern>
        <linearGradient id="sheet-trunk" x1="0" y1="0" x2="0" y2="1">
          <stop offset="0" className="sheet-trunk-from" />
          <stop offset="1" className="sheet-trunk-to" />
        </linearGradient>
      </defs>
      <text x={0} y={12} className="sheet-flow-head">
        {emitted ? `Emitted ${formatValue(emitted.value, 'lm', 5)}` : 'Emitted'}
      </text>
      {flow.branches.map((b) =>
        b.delivered ? (
          <OutStrand
            key={b.line.line}
            b={b}
            exitY={flow.exitY}
            toX={toX}
            strength={STRENGTH[delivered.length - 1 - delivered.indexOf(b)] ?? 0.28}
          />
        ) : (
          <g key={b.line.line}>
            <rect
              x={b.x}
              y={FLOW.head - 6}
              width={b.width}
              height={Math.max(0, leavesAt(b) - FLOW.head + 6)}
              className="sheet-strand"
            />
            <path d={lossPath(b, toX)} className="sheet-loss" fill="url(#sheet-hatch)" />
          </g>
        ),
      )}
      <line x1={0} x2={widthPx} y1={flow.exitY} y2={flow.exitY} className="sheet-exit" />
      <text x={widthPx} y={flow.exitY - 4} textAnchor="end" className="sheet-flow-head">
        {out ? `leaves the lamp: ${formatFigure(out, 'lm').text}` : 'leaves the lamp'}
      </text>
      {flow.branches.map((b) => (
        <FlowLabel key={b.line.line} b={b} textX={textX} widthPx={widthPx} />
      ))}
    </svg>
  )
}

function OutStrand({ b, exitY, toX, strength }: { b: FlowBranch; exitY: number; toX: number; strength: number }) {
  const tip = b.y + Math.min(6, b.width / 2)
  return (
    <g>
      <rect x={b.x} y={FLOW.head - 6} width={b.width} height={exitY - FLOW.head + 6} className="sheet-strand" />
      <path
        d={`M${b.x} ${exitY}V${b.y}L${b.x + b.width / 2} ${tip}L${b.x + b.width} ${b.y}V${exitY}Z`}
        className="sheet-out"
        style={{ opacity: strength }}
      />
      <line x1={b.x + b.width} x2={toX} y1={b.y - 1} y2={b.y - 1} className="sheet-leader" />
    </g>
  )
}

function FlowLabel({ b, textX, widthPx }: { b: FlowBranch; textX: number; widthPx: number }) {
  return (
    <g className={b.delivered ? 'sheet-flow-out' : 'sheet-flow-lost'}>
      <text x={textX} y={b.y + 4}>
        {lineWords(b.line)}
      </text>
      <text x={widthPx} y={b.y + 4} textAnchor="end">
        {withUnit(toDecimals(100 * b.line.share.value, 2), '%')}
      </text>
    </g>
  )
}

function LedgerTable() {
  const { losses, delivered } = inOrder(useSheet().sheet.ledger)
  const all = [...losses, ...delivered]
  const none = all.filter((l) => l.share.value === 0 && l.share.se === 0)
  return (
    <>
      <LedgerRows lines={all.filter((l) => !none.includes(l))} />
      {none.length > 0 && (
        <p className="sheet-quiet">Nothing at all went to: {none.map(lineWords).join(', ').toLowerCase()}.</p>
      )}
    </>
  )
}

/** Of an assembled lamp, in the order that light meets its parts; summed, since it is only a share of all. */
function PartTable() {
  const { parts = [] } = useSheet().sheet
  const sum = (pick: (l: LedgerLine) => number) => parts.reduce((all, l) => all + pick(l), 0)
  return (
    <LedgerRows lines={parts}>
      <tr>
        <th scope="row">Sum</th>
        <td>
          {formatValue(
            sum((l) => l.share.value),
            '%',
            3,
          )}
        </td>
        <td>
          {toDigits(
            sum((l) => l.lm),
            3,
          )}
        </td>
        <td>
          {toDigits(
            sum((l) => l.w),
            2,
          )}
        </td>
      </tr>
    </LedgerRows>
  )
}

function LedgerRows({ lines, children }: { lines: readonly LedgerLine[]; children?: ReactNode }) {
  return (
    <table className="sheet-table">
      <thead>
        <tr>
          <th scope="col">Where</th>
          <th scope="col">Share, ± at 95 %</th>
          <th scope="col">lm</th>
          <th scope="col">W</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((l) => (
          <tr key={l.line}>
            <th scope="row" title={l.name}>
              {lineWords(l)}
            </th>
            <td>{isTrace(l) ? `under 0.001${THIN}%` : formatFigure(l.share, '%').text}</td>
            <td>{isTrace(l) ? '0' : toDigits(l.lm, 3)}</td>
            <td>{isTrace(l) ? '0' : toDigits(l.w, 2)}</td>
          </tr>
        ))}
        {children}
      </tbody>
    </table>
  )
}
