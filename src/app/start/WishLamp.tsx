// Lamps from what one must do: the wish on the left, what comes of it on the right, kind by kind as each is worked out.
import { type ReactNode, useEffect, useRef, useState } from 'react'
import { wishInWorkers } from '../../job/wish/client.ts'
import { forbiddenBy } from '../../job/wish/feasible.ts'
import { KINDS } from '../../job/wish/kinds.ts'
import type { KindOutcome } from '../../job/wish/result.ts'
import { readWish, type Wish } from '../../job/wish/wish.ts'
import { LIMITS } from '../../lamp/limits.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { EMITTERS } from '../../library/emitters.ts'
import { changesWords, forbiddenWords } from '../../report/wish.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { NumberField, type NumberFieldProps } from '../ui/NumberField.tsx'
import { Proposals } from './Proposals.tsx'

const FIRST_WISH: Wish = { candela: 1e6, minutes: 10, lengthMm: 800 }
const OPTIONS = { seed: 1, rays: 1 << 16 }

interface Search {
  wish: Wish
  outcomes: readonly KindOutcome[]
  isDone: boolean
  fault: string | null
}

export function WishLamp({ onLamp }: { onLamp(lamp: Lamp, label: string): void }) {
  const [wish, setWish] = useState<Wish>(FIRST_WISH)
  const { search, start, stop } = useSearch()
  const system = useUnitSystem()
  const read = readWish(wish)
  const forbidden = read.ok ? forbiddenBy(read.wish) : []
  const isBusy = search !== null && !search.isDone
  return (
    <>
      <div className="start-wish">
        <div className="start-wish-fields">
          <Fields wish={wish} onWish={setWish} />
        </div>
        <div className="start-wish-found">
          {forbidden.map((f) => (
            <p key={f.by} className="start-forbidden">
              {forbiddenWords(f)} {changesWords(f, system)}
            </p>
          ))}
          {search ? (
            <Proposals wish={search.wish} outcomes={search.outcomes} isDone={search.isDone} onLamp={onLamp} />
          ) : (
            <div className="start-wish-idle">
              <p>
                Lamps of {KINDS.length} kinds are sized for this, traced and checked, each with its boards, optics,
                sink, drivers, pack and wires:
              </p>
              <ul>
                {KINDS.map((k) => (
                  <li key={k.id}>{k.name}</li>
                ))}
              </ul>
              <p>
                A lens at hand goes into the kinds with a lens, a bin or tube into those with a tunnel, a pack into all.
              </p>
            </div>
          )}
        </div>
      </div>
      <div className="start-end">
        <p role="status" className="start-outcome">
          {read.ok ? statusWords(search) : read.why}
        </p>
        <Button kind="quiet" slot="close">
          Close
        </Button>
        {isBusy ? (
          <Button onPress={stop}>Stop</Button>
        ) : (
          <Button
            kind="strong"
            isDisabled={!read.ok || forbidden.length > 0}
            onPress={() => read.ok && start(read.wish)}
          >
            Find lamps
          </Button>
        )}
      </div>
    </>
  )
}

function statusWords(search: Search | null): string {
  if (!search) return 'It takes about a minute.'
  if (search.fault !== null) return search.fault
  const found = search.outcomes.filter((o) => o.ok && o.proposal.misses.length === 0).length
  if (!search.isDone) return `${search.outcomes.length} of ${KINDS.length} kinds worked out…`
  return `${found} of ${search.outcomes.length} kinds of lamps can do it. ± is of tracing; built lamps differ by more.`
}

/** One search at a time; it ends with the dialog. */
function useSearch() {
  const [search, setSearch] = useState<Search | null>(null)
  const running = useRef<AbortController | null>(null)
  useEffect(() => () => running.current?.abort(), [])
  const start = (wish: Wish) => {
    running.current?.abort()
    const now = new AbortController()
    running.current = now
    setSearch({ wish, outcomes: [], isDone: false, fault: null })
    const change = (part: (s: Search) => Partial<Search>) =>
      !now.signal.aborted && setSearch((s) => (s ? { ...s, ...part(s) } : s))
    const add = (outcome: KindOutcome) => change((s) => ({ outcomes: inOrder([...s.outcomes, outcome]) }))
    wishInWorkers(wish, OPTIONS, add, now.signal)
      .then(() => change(() => ({ isDone: true })))
      .catch((error: unknown) =>
        change(() => ({ isDone: true, fault: `The search ended: ${error instanceof Error ? error.message : error}` })),
      )
  }
  const stop = () => {
    running.current?.abort()
    setSearch((s) => s && { ...s, isDone: true, fault: 'Stopped.' })
  }
  return { search, start, stop }
}

const kindOf = (o: KindOutcome) => (o.ok ? o.proposal.kind : o.declined.kind)
const inOrder = (outcomes: readonly KindOutcome[]) =>
  KINDS.flatMap((k) => outcomes.find((o) => kindOf(o) === k.id) ?? [])

interface FieldsProps {
  wish: Wish
  onWish(wish: Wish): void
}

function Fields({ wish, onWish }: FieldsProps) {
  const field = { wish, onWish }
  const isLux = wish.candela === undefined
  const { candela: _, lux: __, ...rest } = wish
  return (
    <>
      <Section title="Light">
        <Choice
          label="Given as"
          segments
          value={isLux ? 'lux' : 'candela'}
          options={[
            { key: 'candela', name: 'candela' },
            { key: 'lux', name: 'lux on a target' },
          ]}
          onChoose={(key) =>
            onWish(key === 'lux' ? { distanceM: 30, ...rest, lux: 50 } : { ...rest, candela: FIRST_WISH.candela })
          }
        />
        {isLux ? (
          <WishField {...field} of="lux" label="On the target" unit="lx" step={5} max={1e7} required />
        ) : (
          <WishField {...field} of="candela" label="On the axis" unit="cd" step={10_000} max={1e10} required />
        )}
        <WishField {...field} of="distanceM" label="Distance" unit="m" step={5} max={100_000} required={isLux} />
        <WishField {...field} of="sizeM" label="Side of the target" unit="m" step={1} max={100_000} />
        <WishField {...field} of="minutes" label="Full light for" unit="min" step={1} max={100_000} />
      </Section>
      <Section title="At most">
        <WishField {...field} of="lengthMm" label="Length" unit="mm" step={10} max={LIMITS.lengthMm} />
        <WishField {...field} of="widthMm" label="Width" unit="mm" step={10} max={LIMITS.lensMm} />
        <WishField {...field} of="massKg" label="Mass" unit="kg" step={0.5} max={10_000} />
      </Section>
      <Section title="At hand">
        <AtHand {...field} />
      </Section>
    </>
  )
}

const Section = ({ title, children }: { title: string; children: ReactNode }) => (
  <section className="start-step" aria-label={title}>
    <h3>{title}</h3>
    {children}
  </section>
)

type NumberOf = 'candela' | 'lux' | 'distanceM' | 'sizeM' | 'minutes' | 'lengthMm' | 'widthMm' | 'massKg' | 'emitters'

interface WishFieldProps extends FieldsProps, Pick<NumberFieldProps, 'label' | 'unit' | 'step' | 'max'> {
  of: NumberOf
  required?: boolean
  integer?: boolean
}

/** Emptied, nothing of it is wished. */
function WishField({ wish, onWish, of, required, ...field }: WishFieldProps) {
  const { [of]: value, ...rest } = wish
  return (
    <NumberField
      {...field}
      min={field.integer ? 1 : field.step / 100}
      value={value ?? null}
      whenEmpty="any"
      onSet={(number) => {
        onWish({ ...wish, [of]: number })
        return null
      }}
      {...(!required && {
        onClear: () => {
          onWish(rest)
          return null
        },
      })}
    />
  )
}

const ANY = 'any'

function AtHand({ wish, onWish }: FieldsProps) {
  const { emitter, ...rest } = wish
  return (
    <>
      <Choice
        label="Emitters"
        value={emitter ?? ANY}
        options={[{ key: ANY, name: 'any class' }, ...EMITTERS.map((e) => ({ key: e.id, name: e.name }))]}
        onChoose={(id) => onWish(id === ANY ? rest : { ...wish, emitter: id })}
      />
      <WishField {...{ wish, onWish }} of="emitters" label="How many" unit="" step={1} max={LIMITS.emitters} integer />
      <Pair {...{ wish, onWish }} of="lens" first={{ focalMm: 500, sizeMm: 400 }} title="Lens sheet" />
      <Pair {...{ wish, onWish }} of="tunnel" first={{ acrossMm: 300, lengthMm: 500 }} title="Bin or tube" />
      <Pair {...{ wish, onWish }} of="pack" first={{ series: 8, parallel: 4 }} title="Pack, cells of 3 Ah" />
    </>
  )
}

const PARTS = {
  focalMm: { label: 'Focal length', unit: 'mm', step: 10, min: 10, max: LIMITS.lengthMm },
  sizeMm: { label: 'Width', unit: 'mm', step: 10, min: 10, max: LIMITS.lensMm },
  acrossMm: { label: 'Width', unit: 'mm', step: 10, min: 20, max: LIMITS.lensMm },
  lengthMm: { label: 'Length', unit: 'mm', step: 10, min: 20, max: LIMITS.lengthMm },
  series: { label: 'In series', unit: '', step: 1, min: 3, max: 14, integer: true },
  parallel: { label: 'In parallel', unit: '', step: 1, min: 1, max: 1000, integer: true },
} as const

interface PairProps extends FieldsProps {
  of: 'lens' | 'tunnel' | 'pack'
  /** What stands there once it is said to be at hand. */
  first: Partial<Record<keyof typeof PARTS, number>>
  title: string
}

function Pair({ wish, onWish, of, first, title }: PairProps) {
  const { [of]: has, ...rest } = wish
  return (
    <>
      <Choice
        label={title}
        segments
        value={has ? 'yes' : 'no'}
        options={[
          { key: 'no', name: 'none' },
          { key: 'yes', name: 'this one' },
        ]}
        onChoose={(key) => onWish(key === 'no' ? rest : { ...wish, [of]: first })}
      />
      {has &&
        Object.entries(has).map(([key, value]) => (
          <NumberField
            key={key}
            {...PARTS[key as keyof typeof PARTS]}
            value={value}
            onSet={(number) => {
              onWish({ ...wish, [of]: { ...has, [key]: number } })
              return null
            }}
          />
        ))}
    </>
  )
}
