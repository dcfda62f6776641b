import type { Bounds } from '../geometry';
import { cautionsFor, type Work } from '../wood';
import { type Block, flow, moved } from './blocks';
import type { Group } from './drawing';
import { cautionBlock, contentArea, type Draft, laidOut, sheetGroup } from './page';
import { PAPERS } from './papers';
import type { SheetRequest } from './request';

const COLUMN_GAP = 6;

/** Width of one column of a page with so many of them, mm. */
export function columnWidth({ paper }: SheetRequest, columns: number): number {
  const { minX, maxX } = contentArea(paper);
  return (maxX - minX - (columns - 1) * COLUMN_GAP) / columns;
}

interface Pages extends Pick<Draft, 'name' | 'title' | 'subject' | 'up'> {
  readonly columns: number;
  readonly blocks: readonly Block[];
  /** Kinds of work whose cautions stand on every one of these pages; none where no cut follows. */
  readonly works: readonly Work[];
  /** A drawing over the text of the first page. */
  readonly figure?: {
    /** mm on A4; it grows with the paper. */
    readonly height: number;
    draw(area: Bounds): { readonly groups: readonly Group[]; readonly scale: number | null };
  };
}

/** Text and tables in columns, over as many pages as they need, under a drawing on the first one. */
export function textPages(request: SheetRequest, pages: Pages): Draft[] {
  const { typeface, paper } = request;
  const content = contentArea(paper);
  const cautions =
    pages.works.length > 0
      ? cautionBlock(cautionsFor(...pages.works), content.maxX - content.minX, typeface)
      : { elements: [], height: 0 };
  const figureHeight = ((pages.figure?.height ?? 0) * laidOut(paper).height) / PAPERS.A4.width;
  const width = columnWidth(request, pages.columns);
  const bottom = content.maxY - cautions.height - (cautions.height > 0 ? 2 : 0);
  const set = (blocks: readonly Block[]) =>
    flow(blocks, (index) => {
      const page = Math.floor(index / pages.columns);
      const y = content.minY + (page === 0 ? figureHeight : 0);
      const x = content.minX + (index % pages.columns) * (width + COLUMN_GAP);
      return { x, y, width, height: bottom - y };
    }).pages;
  const pagesOf = ({ length }: readonly unknown[]): number => Math.ceil(length / pages.columns);
  const usual = set(pages.blocks);
  // A page less to carry is worth rows that are set closer.
  const close = pagesOf(usual) > 1 ? set(pages.blocks.map((block) => block.tight ?? block)) : usual;
  const areas = pagesOf(close) < pagesOf(usual) ? close : usual;
  const count = pagesOf(areas);
  return Array.from({ length: count }, (_, page) => {
    const text = areas.slice(page * pages.columns, (page + 1) * pages.columns).flatMap((area) => area.elements);
    const warned = cautions.elements.map((element) => moved(element, content.minX, content.maxY - cautions.height));
    const drawing =
      page === 0 && pages.figure
        ? pages.figure.draw({ ...content, maxY: content.minY + figureHeight - 2 })
        : { groups: [], scale: null };
    const part = count > 1 ? ` ${page + 1}/${count}` : '';
    return {
      name: count > 1 ? `${pages.name}-${page + 1}` : pages.name,
      title: `${pages.title}${part}`,
      subject: pages.subject,
      ...(pages.up && { up: pages.up }),
      scale: drawing.scale,
      groups: [...drawing.groups, sheetGroup('text', [...text, ...warned])],
    };
  });
}
