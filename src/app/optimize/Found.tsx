// What was found, in words: the lamp with its values, what it gives against the lamp as it stands, what is within the noise, dangers.
import type { Confirmed } from '../../job/choose/confirm.ts'
import { movableOf, type Values } from '../../job/choose/moves.ts'
import type { OptimizePlan } from '../../job/choose/plan.ts'
import type { OptimizeResult } from '../../job/choose/run.ts'
import { figuresOf } from '../../job/choose/wishes.ts'
import { isUnsettled, type MoveRow, moveRows, UNSETTLED, wishWords } from '../../report/choose.ts'
import { axisValue } from '../common/numberRange.ts'
import type { OptimizeRun } from '../store/optimize.ts'
import { Button } from '../ui/Button.tsx'
import { gainWords, wishText } from './model/words.ts'

interface Props {
  run: OptimizeRun
  at: number | null
  adopt(values: Values): string | null
}

export function Found({ run, at, adopt }: Props) {
  const { plan, progress, result } = run
  if (plan.wants.length > 1) return <FrontLamp {...{ run, at, adopt }} />
  const values = result?.confirmation?.best.values ?? progress?.best?.values
  if (!progress || !values) return result ? <Nothing result={result} /> : null
  const best = result?.confirmation?.best.figures ?? progress.best?.evaluation.figures ?? {}
  const own = result?.confirmation?.own
  return (
    <div className="optimize-found">
      <section className="optimize-card" aria-label="The best so far">
        <div className="optimize-card-head">
          <h3>{result?.confirmation ? 'Best' : result ? 'Best of what was tried' : 'Best so far'}</h3>
          <Use values={values} adopt={adopt} />
        </div>
        <Rows run={run} values={values} />
        <Figures plan={plan} figures={best} own={own} />
      </section>
      {result && <Judgement plan={plan} run={run} result={result} />}
    </div>
  )
}

const Use = ({ values, adopt }: { values: Values; adopt: Props['adopt'] }) => (
  <Button kind="strong" hint="One step; undo brings the old values back" onPress={() => adopt(values)}>
    Use this
  </Button>
)

const valueText = (value: number | string | null, unit: MoveRow['unit']): string =>
  value === null ? 'different' : typeof value === 'number' ? axisValue(value, unit) : value

function Rows({ run, values }: { run: OptimizeRun; values: Values }) {
  return (
    <table className="optimize-table">
      <tbody>
        {moveRows(movableOf(run.lamp), run.plan.moves, values).map((row) => (
          <tr key={row.path}>
            <th scope="row">{row.words}</th>
            <td>{valueText(row.value, row.unit)}</td>
            <td className="optimize-quiet">
              {row.value === row.now ? 'as it was' : `was ${valueText(row.now, row.unit)}`}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

interface FiguresProps {
  plan: OptimizePlan
  figures: Confirmed['figures']
  own: Confirmed | null | undefined
}

function Figures({ plan, figures, own }: FiguresProps) {
  return (
    <table className="optimize-table">
      <tbody>
        {figuresOf(plan).map((name) => (
          <tr key={name}>
            <th scope="row">{wishWords(name).name}</th>
            <td>
              {wishText(name, figures[name])}
              <LimitWords plan={plan} name={name} />
            </td>
            <td className="optimize-quiet">{own ? `was ${wishText(name, own.figures[name])}` : ''}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function LimitWords({ plan, name }: { plan: OptimizePlan; name: Parameters<typeof wishText>[0] }) {
  const exactly = (value: number) => wishText(name, { value, se: 0 })
  const words = plan.keeps
    .filter((k) => k.figure === name)
    .flatMap((k) => [
      ...(k.least === undefined ? [] : [`at least ${exactly(k.least)}`]),
      ...(k.most === undefined ? [] : [`at most ${exactly(k.most)}`]),
    ])
  return words.length > 0 ? <small> ({words.join(', ')})</small> : null
}

function Judgement({ plan, run, result }: { plan: OptimizePlan; run: OptimizeRun; result: OptimizeResult }) {
  if (!result.confirmation)
    return result.end === 'stopped' ? (
      <p className="optimize-quiet">Stopped before the best was traced again: its figures may be luck.</p>
    ) : (
      <Nothing result={result} />
    )
  const alike = result.confirmation.rivals.filter((r) => r.alike)
  const [want] = plan.wants
  return (
    <div>
      <p>
        <strong>{gainWords(plan, result)}</strong>{' '}
        <span className="optimize-quiet">
          Traced sixteen times more with random numbers that the search had not seen; ± at 95 %.
        </span>
      </p>
      {isUnsettled(result) && <p className="optimize-bound">{UNSETTLED}</p>}
      {alike.length > 0 && want && (
        <>
          <p>Just as good, as far as so many rays tell:</p>
          <ul>
            {alike.map((r) => (
              <li key={r.values.join()}>
                {moveRows(movableOf(run.lamp), plan.moves, r.values)
                  .map((m) => valueText(m.value, m.unit))
                  .join(', ')}
                : {wishText(want.figure, r.figures[want.figure])}
              </li>
            ))}
          </ul>
        </>
      )}
      <Bounds run={run} result={result} />
      <Dangers result={result} />
      <Refused result={result} />
    </div>
  )
}

function Bounds({ run, result }: { run: OptimizeRun; result: OptimizeResult }) {
  if (result.atBounds.length === 0) return null
  const { numbers } = movableOf(run.lamp)
  return (
    <>
      {result.atBounds.map(({ path, at, value }) => {
        const p = numbers.find((q) => q.path === path)
        return (
          <p key={path} className="optimize-bound">
            {p ? `${p.part}: ${p.label.charAt(0).toLowerCase()}${p.label.slice(1)}` : path} stands at its{' '}
            {at === 'min' ? 'lower' : 'upper'} bound, {axisValue(value, p?.unit ?? '')}: with a wider one it may get
            better.
          </p>
        )
      })}
    </>
  )
}

function Dangers({ result: { findings } }: { result: OptimizeResult }) {
  const severe = findings?.best.filter((f) => f.severity === 'severe') ?? []
  if (severe.length === 0) return null
  const before = new Set(findings?.own?.map((f) => f.rule))
  return (
    <ul className="optimize-dangers" aria-label="Severe findings of the best">
      {severe.map((f) => (
        <li key={f.rule + f.title}>
          <strong>{before.has(f.rule) ? 'Severe:' : 'Severe, new:'}</strong> {f.title}
        </li>
      ))}
    </ul>
  )
}

function Refused({ result: { refused, done } }: { result: OptimizeResult }) {
  const [first] = refused
  if (!first) return null
  const count = refused.reduce((n, r) => n + r.count, 0)
  return (
    <p className="optimize-quiet">
      {count} of {done} could not be compared, most of them for this: {first.why}
    </p>
  )
}

const Nothing = ({ result, isFront = false }: { result: OptimizeResult; isFront?: boolean }) => (
  <div>
    <p>
      <strong>No lamp within the bounds keeps the limits.</strong>{' '}
      {isFront ? 'Widen' : 'Above is the one that breaks them least: widen'} the bounds, or ask for less.
    </p>
    <Refused result={result} />
  </div>
)

function FrontLamp({ run, at, adopt }: Props) {
  const front = run.progress?.front ?? []
  const shown = front[Math.min(front.length - 1, at ?? Math.floor(front.length / 2))]
  if (!shown) return run.result ? <Nothing result={run.result} isFront /> : null
  return (
    <div className="optimize-found">
      <section className="optimize-card" aria-label="The lamp in hand">
        <div className="optimize-card-head">
          <h3>One of {front.length} lamps of the front</h3>
          <Use values={shown.values} adopt={adopt} />
        </div>
        <Rows run={run} values={shown.values} />
        <Figures plan={run.plan} figures={shown.evaluation.figures} own={null} />
      </section>
      <p className="optimize-quiet">
        None of them is better than another in both wishes. Click a point, or use the arrow keys on the slider. ± at 95
        %. Dangers are read once you use it.
      </p>
    </div>
  )
}
