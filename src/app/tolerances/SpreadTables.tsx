// How every figure spreads: as drawn with ± of tracing, and built with ± of building, side by side and never mixed. Dangers by their upper end.
import type { FigureSpread, Spread } from '../../job/tolerances/result.ts'
import { spreadWords } from '../../report/tolerances.ts'
import { buildingWords } from '../common/buildingWords.ts'
import { formatFigure } from '../common/format.ts'
import { tolerances, useTolerances } from '../store/tolerances.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { figuresOf, percentileWords, upperWords } from './model/words.ts'

export function SpreadTables({ spread }: { spread: Spread }) {
  return (
    <>
      <DangerTable spread={spread} />
      <FigureTable spread={spread} />
    </>
  )
}

function FigureTable({ spread }: { spread: Spread }) {
  const system = useUnitSystem()
  return (
    <table className="ui-table tolerances-table">
      <caption className="ui-hidden">Figures as drawn and as built</caption>
      <thead>
        <tr>
          <th scope="col">Figure</th>
          <th scope="col">As drawn, ± of tracing</th>
          <th scope="col">± of building</th>
          <th scope="col">5 % lie below</th>
          <th scope="col">half</th>
          <th scope="col">95 %</th>
        </tr>
      </thead>
      <tbody>
        {figuresOf(spread.figures, false).map((f) => {
          const five = percentileWords(f, f.p5, system)
          const half = percentileWords(f, f.median, system)
          const ninetyFive = percentileWords(f, f.p95, system)
          return (
            <FigureRow key={f.name} f={f}>
              <td className="tolerances-building">{buildingWords(f, system)}</td>
              <td title={five.title}>{five.text}</td>
              <td title={half.title}>{half.text}</td>
              <td title={ninetyFive.title}>{ninetyFive.text}</td>
            </FigureRow>
          )
        })}
      </tbody>
    </table>
  )
}

function DangerTable({ spread }: { spread: Spread }) {
  const system = useUnitSystem()
  const hazards = figuresOf(spread.figures, true)
  if (hazards.length === 0) return null
  return (
    <table className="ui-table tolerances-table">
      <caption className="ui-hidden">Dangers as drawn and as built</caption>
      <thead>
        <tr>
          <th scope="col">Danger: the upper end decides</th>
          <th scope="col">As drawn, ± of tracing</th>
          <th scope="col">± of building</th>
          <th scope="col">95 % lie below</th>
          <th scope="col">hottest lamp</th>
        </tr>
      </thead>
      <tbody>
        {hazards.map((f) => (
          <FigureRow key={f.name} f={f}>
            <td className="tolerances-building">{buildingWords(f, system)}</td>
            <td title="Upper end of its 95 % interval; tracing’s noise stays in">
              {upperWords(f.name, f.p95.high, system)}
            </td>
            <td>{upperWords(f.name, f.most, system)}</td>
          </FigureRow>
        ))}
      </tbody>
    </table>
  )
}

/** A press on its name shows where its spread comes from. */
function FigureRow({ f, children }: { f: FigureSpread; children: React.ReactNode }) {
  const system = useUnitSystem()
  const isShown = useTolerances((s) => s.figure === f.name)
  const { name, unit } = spreadWords(f.name)
  return (
    <tr data-shown={isShown || undefined}>
      <th scope="row">
        <button
          type="button"
          className="tolerances-name"
          aria-pressed={isShown}
          title="Where its spread comes from"
          onClick={() => tolerances.setState({ figure: f.name })}
        >
          {name}
        </button>
      </th>
      <td>{f.drawn ? formatFigure(f.drawn, unit, system, 5).text : 'none'}</td>
      {children}
    </tr>
  )
}
