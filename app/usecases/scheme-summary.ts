import { placesOf, writeName } from '../boards/scheme.ts'
import type { Scheme } from '../boards/scheme.ts'
import type { ResponseOf } from '../contract/calls.ts'

type Summary = ResponseOf<'schemes:list'>['schemes'][number]

/** So many examples tell how a scheme spells. */
const MOST_EXAMPLES = 12

/** A scheme as people read it: its templates, and names as it writes them. */
export function schemeSummaryOf(scheme: Scheme, source: Summary['source']): Summary {
  const places = placesOf(scheme)
  // Of each template one example, so that parts and layers are seen beside plain roles.
  const step = Math.max(1, Math.ceil(places.length / MOST_EXAMPLES))
  const examples = places
    .filter((_place, index) => index % step === 0)
    .flatMap((place) => {
      const name = writeName(scheme, place)
      return name === null ? [] : [{ name, place }]
    })
  const { id, title, notes, templates } = scheme
  return { id, title, notes, source, templates: [...templates], examples }
}
