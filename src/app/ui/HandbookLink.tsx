// Opens the page of the handbook that answers the question of the place it stands in.
import { type HandbookPage, openHandbook, pageTitle } from '../store/handbook.ts'
import { Button } from './Button.tsx'
import './handbookLink.css'

export function HandbookLink({ page }: { page: HandbookPage }) {
  return (
    <p className="ui-handbook">
      <Button kind="quiet" hint="Opens the handbook" onPress={() => openHandbook(page)}>
        Handbook: {pageTitle(page)}
      </Button>
    </p>
  )
}
