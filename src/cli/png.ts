import { createRequire } from 'node:module'

/** Files that resvg can read: it draws no text at all from woff files, and does not say so. */
const FONTS = [
  '@expo-google-fonts/atkinson-hyperlegible/400Regular/AtkinsonHyperlegible_400Regular.ttf',
  '@expo-google-fonts/atkinson-hyperlegible/700Bold/AtkinsonHyperlegible_700Bold.ttf',
]

/**
 * A PNG of an SVG document, the same on every machine: only the fonts that come with Pawl are used.
 *
 * @param svg   As from `paintSvg`.
 * @param scale Pixels of the PNG for one of the SVG.
 */
export async function renderPng(svg: string, scale = 2): Promise<Uint8Array> {
  const { Resvg } = await import('@resvg/resvg-js')
  const require = createRequire(import.meta.url)
  // The font has no minus sign; its en dash looks the same.
  const drawable = svg.replaceAll('−', '–')
  const image = new Resvg(drawable, {
    fitTo: { mode: 'zoom', value: scale },
    font: {
      loadSystemFonts: false,
      fontFiles: FONTS.map((path) => require.resolve(path)),
      defaultFontFamily: 'Atkinson Hyperlegible',
    },
  })
  return image.render().asPng()
}
