import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** Size of each page, mm, and all words of a PDF, by a reader that is not ours. */
export async function readPdf(
  bytes: Uint8Array,
): Promise<{ pages: { width: number; height: number }[]; text: string }> {
  const pdf = await getDocument({ data: bytes }).promise;
  const pages: { width: number; height: number }[] = [];
  const words: string[] = [];
  for (let i = 1; i <= pdf.numPages; i++) {
    const sheet = await pdf.getPage(i);
    const [x0, y0, x1, y1] = sheet.view as [number, number, number, number];
    pages.push({ width: ((x1 - x0) / 72) * 25.4, height: ((y1 - y0) / 72) * 25.4 });
    const { items } = await sheet.getTextContent();
    words.push(...items.map((item) => ('str' in item ? item.str : '')));
  }
  return { pages, text: words.join(' ') };
}
