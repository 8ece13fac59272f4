import { useEffect, useRef } from 'react'
import { COMPARED_FIGURES, type Variant } from '../../job/beam/sheet.ts'
import { lensesLeftOut } from '../../library/lensSystem.ts'
import { FIGURE_WORDS, variantWords } from '../../report/figures.ts'
import { formatFigure, roundTogether } from '../common/format.ts'
import { inView } from '../store/inView.ts'
import { useDesign, useResult } from '../store/stores.ts'
import { useSheet } from './contexts.ts'
import { pausedWords, ratioOf, stillTraced, variantEffects } from './words.ts'

/** The effect of each part: the same lamp without it, beside the real one. */
export function Variants() {
  const box = useRef<HTMLDivElement>(null)
  useEffect(() => watchInView(box.current), [])
  return (
    <div ref={box}>
      <Compared />
    </div>
  )
}

/** Until they are out of view again a trace does them first. */
function watchInView(box: HTMLElement | null): (() => void) | undefined {
  if (!box) return
  const watch = new IntersectionObserver((seen) =>
    inView.setState({ comparisons: seen.at(-1)?.isIntersecting ?? false }),
  )
  watch.observe(box)
  return () => {
    watch.disconnect()
    inView.setState({ comparisons: false })
  }
}

function Compared() {
  const { sheet } = useSheet()
  const lamp = useDesign((s) => s.lamp)
  const leftOut = lensesLeftOut(lamp)
  const hasOptics = lamp.opticTypes.some((o) => o.kind !== 'bare')
  const has = { hasLens: leftOut !== null, hasTunnel: lamp.tunnel !== null, hasOptics }
  const coming = stillTraced(sheet.variants, has)
  const paused = useResult((s) => s.trace === 'paused')
  const heldBy = useResult((s) => s.heldBy)
  if (sheet.variants.length === 0)
    return (
      <p className="sheet-quiet">
        {paused ? pausedWords(heldBy) : 'Tracing…'} The comparisons come when the lamp itself has settled.
      </p>
    )
  const real = sheet.variants.find((v) => v.name === 'as designed')?.figures ?? sheet.figures
  const most = Math.max(...sheet.variants.map((v) => v.figures.axialIntensityCd?.value ?? 0))
  return (
    <>
      {variantEffects(sheet.variants).map((effect) => (
        <p key={effect} className="sheet-effect">
          {effect}
        </p>
      ))}
      <ul className="sheet-variants">
        {sheet.variants.map((v) => (
          <VariantRow key={v.name} variant={v} real={real} most={most} />
        ))}
        {coming.map((name) => (
          <li key={name} className="sheet-variant-name">
            <b>{variantWords(name, leftOut)}</b>
            <span>{paused ? (heldBy.length > 0 ? 'waiting' : 'paused') : 'tracing…'}</span>
          </li>
        ))}
      </ul>
    </>
  )
}

function VariantRow({ variant: v, real, most }: { variant: Variant; real: Variant['figures']; most: number }) {
  const ratio = ratioOf(v.figures.axialIntensityCd, real.axialIntensityCd)
  const isReal = v.name === 'as designed'
  const shown = ratio && roundTogether(ratio.value, ratio.half)
  return (
    <li data-real={isReal || undefined}>
      <p className="sheet-variant-name">
        <b>{variantWords(v.name, v.leftOut)}</b>
        <span>
          {isReal
            ? 'the real lamp'
            : shown && `axis × ${shown.value}${shown.pm === '' || shown.pm === 'exact' ? '' : ` ± ${shown.pm}`}`}
        </span>
      </p>
      <span className="sheet-bar" aria-hidden="true">
        <span style={{ width: `${(100 * (v.figures.axialIntensityCd?.value ?? 0)) / (most || 1)}%` }} />
      </span>
      <dl>
        {COMPARED_FIGURES.map((name) => {
          const figure = v.figures[name]
          return (
            <div key={name}>
              <dt>{FIGURE_WORDS[name].name}</dt>
              <dd>{figure ? formatFigure(figure, FIGURE_WORDS[name].unit).text : 'none'}</dd>
            </div>
          )
        })}
      </dl>
      {v.findings && <p className="sheet-why">{v.findings}</p>}
    </li>
  )
}
