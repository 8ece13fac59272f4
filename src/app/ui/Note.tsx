// A small button that opens the method and the source of a figure.
import type { ReactNode } from 'react'
import { Button, Dialog, DialogTrigger, Heading, Popover } from 'react-aria-components'
import './note.css'
import './ui.css'

export interface NoteProps {
  /** What is explained; part of the button's accessible name. */
  about: string
  children: ReactNode
}

export function Note(p: NoteProps) {
  return (
    <DialogTrigger>
      <Button className="ui-note-mark" aria-label={`How ${p.about} is computed`}>
        i
      </Button>
      <Popover className="ui-popover ui-note">
        <Dialog className="ui-note-body">
          <Heading slot="title" className="ui-note-title">
            {p.about}
          </Heading>
          {p.children}
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}
