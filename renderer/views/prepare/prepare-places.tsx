import { PathField } from '../../elements/path-field.tsx'

export interface WrittenPlaces {
  /** As typed; empty for none. */
  readonly into: string
  readonly reportPath: string
}

interface PreparePlacesProps {
  readonly formId: string
  readonly places: WrittenPlaces
  readonly onPlaces: (places: WrittenPlaces) => void
  readonly onRun: () => void
}

/** Where besides the workshop the prepared fonts are written, and a page about them. */
export function PreparePlaces({ formId, places, onPlaces, onRun }: PreparePlacesProps) {
  return (
    <form
      id={formId}
      className="sheet-stack"
      aria-label="Prepare"
      onSubmit={(event) => {
        event.preventDefault()
        onRun()
      }}
    >
      <p className="quiet">
        What is made is kept in the workshop, for this board, and goes on its cards. The originals stay as
        they are.
      </p>
      <PathField
        label="Also write each font as a folder into"
        description="A full path; empty for none. What lies there is never overwritten."
        kinds={['folder']}
        value={places.into}
        onChange={(into) => onPlaces({ ...places, into })}
      />
      <PathField
        label="Also write a page about it"
        description="A full path to an .html file; empty for none"
        kinds={[]}
        value={places.reportPath}
        onChange={(reportPath) => onPlaces({ ...places, reportPath })}
      />
    </form>
  )
}
