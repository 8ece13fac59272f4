// The engine that traces, with the reason in a popover.
import { memo } from 'react'
import { Button, Dialog, DialogTrigger, Heading, Popover } from 'react-aria-components'
import { engineWords } from '../../report/figures.ts'
import './ui.css'

export interface EngineNoteProps {
  engine: 'cpu' | 'gpu'
  why: string
  /** Threads of the processor. */
  threads: number
}

export const EngineNote = memo(function EngineNote({ engine, why, threads }: EngineNoteProps) {
  const { name, title, about } = engineWords(engine)
  return (
    <DialogTrigger>
      <Button className="ui-engine" aria-label={`Traced by the ${title}: why`}>
        {name}
      </Button>
      <Popover className="ui-popover ui-note">
        <Dialog className="ui-note-body">
          <Heading slot="title" className="ui-note-title">
            Traced by the {title}
          </Heading>
          <p>
            {name}: {why}.
          </p>
          <p>
            {about} {threads === 1 ? 'One thread of the processor works' : `${threads} threads of the processor work`}{' '}
            on it.
          </p>
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
})
