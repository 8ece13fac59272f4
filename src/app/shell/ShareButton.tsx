// The lamp for somebody else: as a link, which is copied at once, or as a picture of the view that is shown.
import { useEffect, useId, useState } from 'react'
import { Button as AriaButton, Dialog, DialogTrigger, Heading, Popover } from 'react-aria-components'
import { groupThousands } from '../common/format.ts'
import { saveShownPicture } from '../store/picture.ts'
import type { Printed } from '../store/shell.ts'
import { useDesign, useView } from '../store/stores.ts'
import { Button } from '../ui/Button.tsx'
import { Toggle } from '../ui/Toggle.tsx'
import { LONG_LINK, linkTo } from './link.ts'
import { page, shell, useShell } from './page.ts'

export function ShareButton() {
  return (
    <DialogTrigger>
      <AriaButton className="ui-button ui-button-plain">Share</AriaButton>
      <Popover className="ui-popover shell-popover" placement="bottom end">
        <Dialog className="shell-popover-body">
          <Heading slot="title" className="shell-popover-title">
            Share or print this lamp
          </Heading>
          <LinkPart />
          <PicturePart />
          <PaperPart />
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}

function LinkPart() {
  const lamp = useDesign((s) => s.lamp)
  const id = useId()
  const [link, setLink] = useState('')
  const [copied, setCopied] = useState<boolean | null>(null)
  const copy = (text: string) =>
    navigator.clipboard
      ?.writeText(text)
      .then(() => setCopied(true))
      .catch(() => setCopied(false)) ?? setCopied(false)
  // biome-ignore lint/correctness/useExhaustiveDependencies: copied when it is made, not again
  useEffect(() => {
    let isGone = false
    linkTo(lamp, location).then((made) => {
      if (isGone) return
      setLink(made)
      void copy(made)
    })
    return () => {
      isGone = true
    }
  }, [lamp])
  const length = groupThousands(String(link.length))
  return (
    <>
      <p>The link holds the whole lamp. Whoever opens it gets a copy; nothing is sent to a server.</p>
      <label className="ui-hidden" htmlFor={id}>
        Link to this lamp
      </label>
      <input id={id} className="ui-input shell-link" readOnly value={link} onFocus={(e) => e.currentTarget.select()} />
      <p role="status">
        {copied === true && `The link is copied: ${length} characters.`}
        {copied === false && `This browser lets the page copy nothing. Select the link: ${length} characters.`}
      </p>
      {link.length > LONG_LINK && (
        <p className="shell-quiet">Some mail and chat programs cut a link this long. The file or a picture is safer.</p>
      )}
      <div className="shell-modal-buttons">
        <Button onPress={page.files.save}>Save the file</Button>
        <Button onPress={() => void copy(link)}>Copy the link</Button>
      </div>
    </>
  )
}

function PicturePart() {
  const view = useView((s) => s.view)
  const [failed, setFailed] = useState(false)
  return (
    <>
      <p>A picture of the {view} has the lamp in it: dropped on this page it opens.</p>
      <div className="shell-modal-buttons">
        <Button onPress={() => setFailed(!saveShownPicture())}>Save the picture</Button>
      </div>
      {failed && <p role="status">This view can’t be drawn in this browser.</p>}
    </>
  )
}

const PAPER: readonly { key: keyof Printed; name: string }[] = [
  { key: 'section', name: 'Section to scale' },
  { key: 'plan', name: 'Plan to scale' },
  { key: 'sheet', name: 'Whole beam sheet' },
]

function PaperPart() {
  const printed = useShell((s) => s.printed)
  return (
    <>
      <p>On paper: the answers on a page, then what is chosen here.</p>
      {PAPER.map(({ key, name }) => (
        <Toggle
          key={key}
          label={name}
          value={printed[key]}
          onChange={(on) => shell.setState({ printed: { ...printed, [key]: on } })}
        />
      ))}
      <div className="shell-modal-buttons">
        <Button onPress={() => window.print()}>Print</Button>
      </div>
    </>
  )
}
