import { Places } from '../../elements/places.tsx'

export function RecordsPlaces() {
  return (
    <Places
      name="Records"
      places={[
        { to: '/builds', word: 'Builds' },
        { to: '/builds/licences', word: 'Licences' },
        { to: '/builds/creators', word: 'Creators' },
      ]}
    />
  )
}
