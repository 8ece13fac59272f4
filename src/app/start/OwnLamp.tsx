// A lamp of one's own in six steps. Every number has a value from the steps before it; a step that is left alone keeps them.
import { type ReactNode, useMemo, useState } from 'react'
import { type Answers, FIRST_ANSWERS, type Followed } from '../../job/start/answers.ts'
import { emptyLamp } from '../../job/start/lamp.ts'
import { follow } from '../../job/start/light.ts'
import { LIMITS } from '../../lamp/limits.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { EMITTERS, emitterById } from '../../library/emitters.ts'
import { WALL_FINISHES } from '../../library/wallFinishes.ts'
import type { Figure } from '../../report/book/model.ts'
import { countWords, toDigits } from '../common/format.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { NumberField, type NumberFieldProps } from '../ui/NumberField.tsx'
import { TextField } from '../ui/TextField.tsx'
import { boardPicture, facePicture, lensPicture, opticPicture, supplyPicture, tunnelPicture } from './model/pictures.ts'
import { Picture } from './Picture.tsx'
import { type BegunNow, useBegun } from './useBegun.ts'

interface StepProps {
  answers: Answers
  change(part: Partial<Answers>): void
}

export function OwnLamp({ onLamp }: { onLamp(lamp: Lamp, label: string): void }) {
  const [answers, setAnswers] = useState(FIRST_ANSWERS)
  const shown = useBegun(answers)
  const step: StepProps = { answers, change: (part) => setAnswers((now) => ({ ...now, ...part })) }
  const isNow = shown?.answers === answers
  return (
    <>
      <TextField
        label="Name"
        className="ui-field start-name"
        value={answers.name}
        maxLength={120}
        onSet={(name) => {
          if (name.trim() === '') return 'A lamp needs a name.'
          step.change({ name: name.trim() })
          return null
        }}
      />
      <div className="start-steps">
        <Step title="Boards" of={boardPicture} shown={shown}>
          <BoardsStep {...step} />
        </Step>
        <Step title="Optics" of={opticPicture} shown={shown}>
          <OpticsStep {...step} />
        </Step>
        <Step title="Face" of={facePicture} shown={shown}>
          <FaceStep {...step} />
        </Step>
        <Step title="Tunnel" of={tunnelPicture} shown={shown}>
          <TunnelStep {...step} />
        </Step>
        <Step title="Lens" of={lensPicture} shown={shown}>
          <LensStep {...step} />
        </Step>
        <Step title="Supply and modes" of={supplyPicture} shown={shown}>
          <SupplyStep {...step} />
        </Step>
      </div>
      <div className="start-end">
        <Outcome shown={shown} isNow={isNow} answers={answers} />
        <Button kind="quiet" slot="close">
          Close
        </Button>
        <Button
          hint="A face without boards, tunnel, lens and supply"
          onPress={() => onLamp(emptyLamp(answers.name), 'Empty lamp')}
        >
          Empty lamp
        </Button>
        <Button
          kind="strong"
          isDisabled={!isNow || shown.fault !== null}
          onPress={() => shown && onLamp(shown.lamp, 'New lamp')}
        >
          Make this lamp
        </Button>
      </div>
    </>
  )
}

interface CardProps {
  title: string
  of(lamp: Lamp): Figure
  shown: BegunNow | null
  children: ReactNode
}

function Step({ title, of, shown, children }: CardProps) {
  const figure = useMemo(() => (shown && shown.fault === null ? of(shown.lamp) : null), [of, shown])
  return (
    <section className="start-step" aria-label={title}>
      <h3>{title}</h3>
      <div className="start-paper">{figure && <Picture figure={figure} />}</div>
      <div className="start-fields">{children}</div>
    </section>
  )
}

interface FollowedFieldProps extends StepProps, Pick<NumberFieldProps, 'label' | 'unit' | 'step' | 'min' | 'max'> {
  of: keyof Followed
  from: string
}

/** A number that follows from others until it is given; emptied, it follows again. */
function FollowedField({ answers, change, of, from, ...field }: FollowedFieldProps) {
  const { [of]: typed, ...others } = answers.typed
  return (
    <NumberField
      {...field}
      value={follow(answers)[of]}
      digits={field.unit === 'mm' ? 1 : 2}
      description={typed === undefined ? `Follows from ${from}` : `Yours; emptied, it follows from ${from} again`}
      onSet={(value) => {
        change({ typed: { ...answers.typed, [of]: value } })
        return null
      }}
      onClear={() => {
        change({ typed: others })
        return null
      }}
    />
  )
}

function CountField({
  answers,
  change,
  of,
  ...field
}: StepProps & { label: string; max: number; of: 'boards' | 'perBoard' }) {
  return (
    <NumberField
      {...field}
      unit=""
      step={1}
      min={1}
      integer
      value={answers[of]}
      onSet={(count) => {
        const next = { ...answers, [of]: count }
        if (next.boards * next.perBoard > LIMITS.emitters) return `A lamp holds ${LIMITS.emitters} emitters at most.`
        change({ [of]: count })
        return null
      }}
    />
  )
}

function BoardsStep(p: StepProps) {
  const { maxCurrentA } = emitterById(p.answers.emitter)
  return (
    <>
      <CountField {...p} label="Boards" of="boards" max={LIMITS.boards} />
      <CountField {...p} label="Emitters on each" of="perBoard" max={LIMITS.sitesPerBoard} />
      <Choice
        label="Class"
        description="Typical numbers of a class; the part in hand replaces them later"
        value={p.answers.emitter}
        options={EMITTERS.map((e) => ({ key: e.id, name: e.name }))}
        onChoose={(emitter) => {
          const { currentA: _, opticDeg: __, ...typed } = p.answers.typed
          p.change({ emitter, typed })
        }}
      />
      <FollowedField
        {...p}
        of="currentA"
        from="the class"
        label="Current in each"
        unit="A"
        step={0.05}
        min={0.001}
        max={maxCurrentA}
      />
    </>
  )
}

function OpticsStep(p: StepProps) {
  return (
    <>
      <Choice
        label="On each emitter"
        segments
        value={p.answers.optic}
        options={[
          { key: 'collimator', name: 'collimator' },
          { key: 'bare', name: 'none' },
        ]}
        onChoose={(optic) => p.change({ optic })}
      />
      {p.answers.optic === 'collimator' && (
        <FollowedField
          {...p}
          of="opticDeg"
          from="the emitting surface and the optic’s exit"
          label="Full width at half"
          unit="deg"
          step={1}
          min={0.5}
          max={178}
        />
      )}
    </>
  )
}

function FaceStep(p: StepProps) {
  return (
    <>
      <Choice
        label="Shape"
        segments
        value={p.answers.face}
        options={[
          { key: 'round', name: 'round' },
          { key: 'hexagon', name: 'hexagon' },
          { key: 'square', name: 'square' },
        ]}
        onChoose={(face) => p.change({ face })}
      />
      <FollowedField
        {...p}
        of="faceMm"
        from="the boards"
        label="Size across"
        unit="mm"
        step={5}
        min={1}
        max={LIMITS.faceMm}
      />
    </>
  )
}

const NO_TUNNEL = 'none'

function TunnelStep(p: StepProps) {
  return (
    <>
      <Choice
        label="Lining"
        value={p.answers.tunnel ?? NO_TUNNEL}
        options={[{ key: NO_TUNNEL, name: 'no tunnel' }, ...WALL_FINISHES.map((f) => ({ key: f.id, name: f.name }))]}
        onChoose={(id) => p.change({ tunnel: id === NO_TUNNEL ? null : id })}
      />
      {p.answers.tunnel !== null && (
        <FollowedField
          {...p}
          of="tunnelMm"
          from={p.answers.lens ? 'the lens' : 'the face'}
          label="Length"
          unit="mm"
          step={5}
          min={1}
          max={LIMITS.lengthMm - 200}
        />
      )}
    </>
  )
}

function LensStep(p: StepProps) {
  const field = { ...p, unit: 'mm', step: 10 } as const
  return (
    <>
      <Choice
        label="Kind"
        segments
        value={p.answers.lens ? 'fresnel' : 'none'}
        options={[
          { key: 'fresnel', name: 'Fresnel' },
          { key: 'none', name: 'none' },
        ]}
        onChoose={(kind) => p.change({ lens: kind === 'fresnel' })}
      />
      {p.answers.lens && (
        <>
          <FollowedField
            {...field}
            of="focalMm"
            from="the face and the optics"
            label="Focal length"
            min={10}
            max={LIMITS.lengthMm}
          />
          <FollowedField
            {...field}
            of="lensMm"
            from="the face and the optics’ beam"
            label={p.answers.face === 'square' ? 'Side' : 'Diameter'}
            min={1}
            max={LIMITS.lensMm}
          />
          <FollowedField
            {...field}
            of="lensZMm"
            from="the focal length, 5 % inside it"
            label="Stands at z"
            min={40}
            max={LIMITS.lengthMm}
          />
        </>
      )}
    </>
  )
}

function SupplyStep(p: StepProps) {
  return (
    <>
      <Choice
        label="Supply"
        segments
        value={p.answers.supply}
        options={[
          { key: 'pack', name: 'pack' },
          { key: 'fixed', name: 'mains' },
          { key: 'unsaid', name: 'later' },
        ]}
        onChoose={(supply) => p.change({ supply })}
      />
      {p.answers.supply !== 'unsaid' && (
        <Choice
          label="Modes"
          segments
          value={String(p.answers.modes) as '1' | '2' | '3'}
          options={[
            { key: '1', name: '1' },
            { key: '2', name: '2' },
            { key: '3', name: '3' },
          ]}
          onChoose={(n) => p.change({ modes: Number(n) as Answers['modes'] })}
        />
      )}
    </>
  )
}

function Outcome({ shown, isNow, answers }: { shown: BegunNow | null; isNow: boolean; answers: Answers }) {
  return (
    <p role="status" className="start-outcome">
      {!shown || !isNow ? 'Filling the face…' : (shown.fault ?? outcomeWords(shown, answers))}
    </p>
  )
}

function outcomeWords({ lamp, didNotFit }: BegunNow, { perBoard, supply }: Answers): string {
  const [emitter] = lamp.emitterTypes
  const count = lamp.boards.length * perBoard
  const fluxLm = emitter ? count * emitter.fluxLm : 0
  const some = (n: number, one: string) => `${countWords(n)} ${n === 1 ? one : `${one}s`}`
  const placed = `${some(lamp.boards.length, 'board')}, ${some(count, 'emitter')}, rated ${toDigits(fluxLm)} lm.`
  const left = didNotFit > 0 ? ` ${some(didNotFit, 'board')} did not fit on the face.` : ''
  if (supply !== 'unsaid' && !lamp.power)
    return `${placed}${left} One main fuse can’t carry its current: the supply is left out.`
  const { power } = lamp
  if (!power) return `${placed}${left}`
  const modes = power.modes.map((m) => m.name).join(', ')
  return `${placed}${left} ${power.supply.name}, a driver of ${power.drivers[0]?.maxOutputA} A for each board; ${modes}.`
}
