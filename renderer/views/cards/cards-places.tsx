import { Places } from '../../elements/places.tsx'

export function CardsPlaces() {
  return (
    <Places
      name="Cards"
      places={[
        { to: '/cards', word: 'What was made' },
        { to: '/cards/make', word: 'Make' },
        { to: '/cards/verify', word: 'Verify' },
        { to: '/cards/compare', word: 'Compare' },
      ]}
    />
  )
}
