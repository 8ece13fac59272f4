// The swept parameters: range and number of steps of each.
import { useEffect, useMemo, useRef, useState } from 'react'
import type { Parameter } from '../../job/sweep/parameters.ts'
import type { RangeChoice } from '../common/rangeChoice.ts'
import { useDesign, useView } from '../store/stores.ts'
import { sweep, useSweep } from '../store/sweep.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import {
  CURVE_COUNT,
  choicesOf,
  MAP_COUNT,
  MAX_ALONE,
  MAX_COUNT,
  parameterWords,
  rangeAbout,
  rangeFaultOf,
  secondPath,
} from './model/axes.ts'

const setRange = (at: number, range: RangeChoice) =>
  sweep.setState({ ranges: sweep.getState().ranges.map((r, i) => (i === at ? range : r)), at: null, announcement: '' })

export function Ranges() {
  const ranges = useSweep((s) => s.ranges)
  const lamp = useDesign((s) => s.lamp)
  const boards = useView((s) => s.boards)
  const known = useMemo(() => choicesOf(lamp, boards), [lamp, boards])
  // The pressed button disappears: the focus moves to the new row, or to the one that remains.
  const [toFocus, focusRow] = useState<number | null>(null)
  const add = () => {
    const first = ranges[0]
    const second = first && known.find((p) => p.path === secondPath(lamp, first.path))
    if (!first || !second) return
    const p = known.find((q) => q.path === first.path)
    const usual = p && rangeAbout(p, CURVE_COUNT)
    const untouched = usual && usual.from === first.from && usual.to === first.to && usual.count === first.count
    const coarser = untouched ? rangeAbout(p, MAP_COUNT) : { ...first, count: Math.min(first.count, MAP_COUNT) }
    sweep.setState({ ranges: [coarser, rangeAbout(second, MAP_COUNT)], at: null, announcement: '' })
    focusRow(1)
  }
  const leaveOut = (at: number) => {
    sweep.setState({ ranges: [{ ...ranges[1 - at]!, count: CURVE_COUNT }], at: null, announcement: '' })
    focusRow(0)
  }
  return (
    <div className="sweep-ranges">
      {ranges.map((range, i) => (
        <RangeRow
          // biome-ignore lint/suspicious/noArrayIndexKey: the first and the second are what they are
          key={i}
          at={i}
          range={range}
          known={known}
          taken={ranges[1 - i]?.path}
          leave={ranges.length > 1 ? () => leaveOut(i) : null}
          hasFocus={toFocus === i}
          onFocused={() => focusRow(null)}
        />
      ))}
      {ranges.length === 1 && (
        <div className="sweep-second">
          <Button kind="quiet" hint="Both over their ranges: a map instead of a curve" onPress={add}>
            + A second number
          </Button>
        </div>
      )}
    </div>
  )
}

interface RowProps {
  at: number
  range: RangeChoice
  known: readonly Parameter[]
  taken: string | undefined
  /** Null for the only parameter. */
  leave: (() => void) | null
  hasFocus: boolean
  onFocused(): void
}

function RangeRow({ at, range, known, taken, leave, hasFocus, onFocused }: RowProps) {
  const row = useRef<HTMLFieldSetElement>(null)
  useEffect(() => {
    if (!hasFocus) return
    row.current?.querySelector('button')?.focus()
    onFocused()
  })
  const p = known.find((q) => q.path === range.path)
  const fault = rangeFaultOf(p, range)
  const ends = { min: p?.min ?? -Infinity, max: p?.max ?? Infinity, integer: p?.integer ?? false }
  const unit = p?.unit ?? ''
  const which = at === 0 ? 'First number' : 'Second number'
  const step = p?.integer ? 1 : Math.max(1e-4, 10 ** Math.floor(Math.log10(Math.abs(range.to - range.from) || 1)) / 10)
  const set = (part: Partial<RangeChoice>) => {
    setRange(at, { ...range, ...part })
    return null
  }
  return (
    <fieldset ref={row} className="sweep-range" data-invalid={fault !== null || undefined}>
      <legend className="ui-hidden">{which}</legend>
      <Choice
        label={at === 0 ? 'Number' : 'And'}
        value={range.path}
        options={known.filter((q) => q.path !== taken).map((q) => ({ key: q.path, name: parameterWords(q) }))}
        onChoose={(path) => {
          const next = known.find((q) => q.path === path)
          if (next) setRange(at, rangeAbout(next, range.count))
        }}
      />
      <div className="sweep-end">
        <NumberField
          label="from"
          unit={unit}
          step={step}
          {...ends}
          value={range.from}
          onSet={(from) => set({ from })}
        />
      </div>
      <div className="sweep-end">
        <NumberField label="to" unit={unit} step={step} {...ends} value={range.to} onSet={(to) => set({ to })} />
      </div>
      <div className="sweep-count">
        <NumberField
          label="in"
          unit=""
          step={1}
          min={2}
          max={leave ? MAX_COUNT : MAX_ALONE}
          integer
          value={range.count}
          description="How many values are tried, both ends among them"
          onSet={(count) => set({ count })}
        />
      </div>
      {leave && (
        <Button kind="quiet" name={`Leave out the ${which.toLowerCase()}`} onPress={leave}>
          ✕
        </Button>
      )}
      {fault && (
        <p className="ui-why" role="alert">
          {fault}
        </p>
      )}
    </fieldset>
  )
}
