// What may move, what is wanted, which limits are kept.
import { useMemo } from 'react'
import { ToggleButton, ToggleButtonGroup } from 'react-aria-components'
import type { WishName } from '../../job/choose/figures.ts'
import {
  type ChoiceMove,
  type Movable,
  type Move,
  movableOf,
  moveFault,
  type NumberMove,
} from '../../job/choose/moves.ts'
import type { Keep, Want } from '../../job/choose/wishes.ts'
import { wishWords } from '../../report/choose.ts'
import { parameterWords } from '../common/numberRange.ts'
import { optimize, useOptimize } from '../store/optimize.ts'
import { useDesign } from '../store/stores.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { anyOf, boundsAbout, offered, WISHES, wishField } from './model/moves.ts'

const replaced = <T,>(list: readonly T[], at: number, item: T): T[] => list.map((x, i) => (i === at ? item : x))
const without = <T,>(list: readonly T[], at: number): T[] => list.filter((_, i) => i !== at)

export function Setup() {
  const lamp = useDesign((s) => s.lamp)
  const movable = useMemo(() => movableOf(lamp), [lamp])
  return (
    <div className="optimize-setup">
      <Moves movable={movable} />
      <Wants />
      <Keeps />
    </div>
  )
}

const setMoves = (moves: readonly Move[]) => optimize.setState({ moves })

function Moves({ movable }: { movable: Movable }) {
  const moves = useOptimize((s) => s.moves)
  const free = offered(movable, moves)
  const [number] = free.numbers
  const [choice] = free.choices
  return (
    <section aria-labelledby="optimize-moves">
      <div className="optimize-head">
        <h3 id="optimize-moves">What may move</h3>
        {number && (
          <Button kind="quiet" onPress={() => setMoves([...moves, boundsAbout(number)])}>
            + A number
          </Button>
        )}
        {choice && (
          <Button kind="quiet" onPress={() => setMoves([...moves, anyOf(choice)])}>
            + A choice
          </Button>
        )}
      </div>
      {moves.map((move, i) => {
        const leave = () => setMoves(without(moves, i))
        const set = (next: Move) => setMoves(replaced(moves, i, next))
        return move.kind === 'number' ? (
          <NumberRow key={move.path} {...{ move, movable, set, leave }} free={free.numbers} />
        ) : (
          <ChoiceRow key={move.path} {...{ move, movable, set, leave }} free={free.choices} />
        )
      })}
    </section>
  )
}

interface RowProps<M extends Move, F> {
  move: M
  movable: Movable
  /** What may stand here instead. */
  free: readonly F[]
  set(move: Move): void
  leave(): void
}

function NumberRow({ move, movable, free, set, leave }: RowProps<NumberMove, Movable['numbers'][number]>) {
  const p = movable.numbers.find((q) => q.path === move.path)
  const ends = { min: p?.min ?? -Infinity, max: p?.max ?? Infinity, integer: p?.integer ?? false }
  const unit = p?.unit ?? ''
  const step = p?.integer ? 1 : 10 ** Math.floor(Math.log10(Math.max(1e-3, Math.abs(move.max - move.min)))) / 10
  const fault = moveFault(movable, move)
  const end = (key: 'min' | 'max') => (value: number) => {
    set({ ...move, [key]: value })
    return null
  }
  return (
    <div className="optimize-row" data-invalid={fault !== null || undefined}>
      <Choice
        label="Number"
        value={move.path}
        options={[...(p ? [p] : []), ...free].map((q) => ({ key: q.path, name: parameterWords(q) }))}
        onChoose={(path) => {
          const next = free.find((q) => q.path === path)
          if (next) set(boundsAbout(next))
        }}
      />
      <div className="optimize-end">
        <NumberField label="from" unit={unit} step={step} {...ends} value={move.min} onSet={end('min')} />
      </div>
      <div className="optimize-end">
        <NumberField label="to" unit={unit} step={step} {...ends} value={move.max} onSet={end('max')} />
      </div>
      <Leave what={p ? parameterWords(p) : move.path} leave={leave} />
      {fault && (
        <p className="ui-why" role="alert">
          {fault.slice(move.path.length + 2)}
        </p>
      )}
    </div>
  )
}

function ChoiceRow({ move, movable, free, set, leave }: RowProps<ChoiceMove, Movable['choices'][number]>) {
  const c = movable.choices.find((d) => d.path === move.path)
  const fault = moveFault(movable, move)
  return (
    <div className="optimize-row optimize-row-choice" data-invalid={fault !== null || undefined}>
      <Choice
        label="Choice"
        value={move.path}
        options={[...(c ? [c] : []), ...free].map((d) => ({ key: d.path, name: parameterWords(d) }))}
        onChoose={(path) => {
          const next = free.find((d) => d.path === path)
          if (next) set(anyOf(next))
        }}
      />
      <Leave what={c ? parameterWords(c) : move.path} leave={leave} />
      <ToggleButtonGroup
        className="ui-segments optimize-options"
        aria-label={`${c ? parameterWords(c) : move.path}: which of them`}
        selectionMode="multiple"
        selectedKeys={move.keys}
        onSelectionChange={(keys) =>
          set({ ...move, keys: (c?.options ?? []).flatMap((o) => (keys.has(o.key) ? o.key : [])) })
        }
      >
        {(c?.options ?? []).map((o) => (
          <ToggleButton key={o.key} id={o.key} className="ui-segment">
            {o.name}
          </ToggleButton>
        ))}
      </ToggleButtonGroup>
      {fault && (
        <p className="ui-why" role="alert">
          {fault.slice(move.path.length + 2)}
        </p>
      )}
    </div>
  )
}

const Leave = ({ what, leave }: { what: string; leave(): void }) => (
  <Button kind="quiet" name={`Leave out: ${what}`} onPress={leave}>
    ✕
  </Button>
)

const AIMS = [
  { key: 'most', name: 'highest' },
  { key: 'least', name: 'lowest' },
  { key: 'equal', name: 'close to' },
] as const

const setWants = (wants: readonly Want[]) => optimize.setState({ wants })

const aimOf = (figure: WishName): Want['aim'] => (wishWords(figure).wanted === 'highest' ? 'most' : 'least')

function Wants() {
  const wants = useOptimize((s) => s.wants)
  return (
    <section aria-labelledby="optimize-wants">
      <div className="optimize-head">
        <h3 id="optimize-wants">What is wanted</h3>
        {wants.length === 1 && (
          <Button
            kind="quiet"
            hint="What one costs of the other: a front of lamps, each the best for what it has of the other"
            onPress={() => {
              const figure = wants[0]?.figure === 'lengthMm' ? 'axialIntensityCd' : 'lengthMm'
              setWants([...wants, { figure, aim: aimOf(figure) }])
            }}
          >
            + A second wish
          </Button>
        )}
      </div>
      {wants.map((want, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: the first and the second are what they are
        <div className="optimize-row optimize-row-wish" key={i}>
          <Choice
            label={i === 0 ? 'Wish' : 'And'}
            value={want.figure}
            options={WISHES.filter((w) => w.key === want.figure || !wants.some((o) => o.figure === w.key))}
            onChoose={(figure: WishName) => setWants(replaced(wants, i, { figure, aim: aimOf(figure) }))}
          />
          <Choice
            label="to be"
            segments
            value={want.aim}
            options={AIMS}
            onChoose={(aim) =>
              setWants(
                replaced(wants, i, {
                  figure: want.figure,
                  aim,
                  ...(aim === 'equal' && { value: want.value ?? wishField(want.figure).first }),
                }),
              )
            }
          />
          {want.aim === 'equal' && (
            <Limit
              label="value"
              figure={want.figure}
              value={want.value ?? 0}
              onSet={(value) => setWants(replaced(wants, i, { ...want, value }))}
            />
          )}
          {wants.length > 1 && <Leave what={wishWords(want.figure).name} leave={() => setWants(without(wants, i))} />}
        </div>
      ))}
    </section>
  )
}

const SIDES = [
  { key: 'most', name: 'at most' },
  { key: 'least', name: 'at least' },
] as const

const setKeeps = (keeps: readonly Keep[]) => optimize.setState({ keeps })

function Keeps() {
  const keeps = useOptimize((s) => s.keeps)
  return (
    <section aria-labelledby="optimize-keeps">
      <div className="optimize-head">
        <h3 id="optimize-keeps">Limits</h3>
        <Button
          kind="quiet"
          hint="What the lamp must keep; of dangers the upper end of ± is judged"
          onPress={() => setKeeps([...keeps, { figure: 'junctionC', most: wishField('junctionC').first }])}
        >
          + A limit
        </Button>
      </div>
      {keeps.map((keep, i) => {
        const side = keep.most === undefined ? 'least' : 'most'
        const value = keep.most ?? keep.least ?? 0
        const set = (figure: WishName, at: 'most' | 'least', v: number) =>
          setKeeps(replaced(keeps, i, { figure, [at]: v }))
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: limits have no name of their own
          <div className="optimize-row optimize-row-wish" key={i}>
            <Choice
              label="Figure"
              value={keep.figure}
              options={WISHES}
              onChoose={(figure: WishName) =>
                set(figure, wishWords(figure).wanted === 'lowest' ? 'most' : 'least', wishField(figure).first)
              }
            />
            <Choice label="is" segments value={side} options={SIDES} onChoose={(at) => set(keep.figure, at, value)} />
            <Limit label="of" figure={keep.figure} value={value} onSet={(v) => set(keep.figure, side, v)} />
            <Leave what={wishWords(keep.figure).name} leave={() => setKeeps(without(keeps, i))} />
          </div>
        )
      })}
    </section>
  )
}

function Limit(p: { label: string; figure: WishName; value: number; onSet(value: number): void }) {
  const { unit, suffix, by } = wishField(p.figure)
  return (
    <div className="optimize-end">
      <NumberField
        label={`${p.label}${suffix}`}
        unit={unit}
        step={unit === 'share' ? 0.05 : 1}
        min={p.figure === 'junctionC' ? -40 : 0}
        max={unit === 'share' ? 1 : 1e12}
        value={p.value * by}
        onSet={(value) => {
          p.onSet(value / by)
          return null
        }}
      />
    </div>
  )
}
