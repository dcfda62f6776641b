import type { PDFDocument, PDFPage, PDFRef } from 'pdf-lib';
import type { Text } from './drawing';

type Library = typeof import('pdf-lib');

/** What a stretch of a page is to one who has it read aloud (PDF 32000-1, 14.8). */
type Role = 'H2' | 'P' | 'Figure';

interface Tagged {
  readonly role: Role;
  /** Said in place of a figure. */
  readonly alt: string | null;
  readonly marks: number[];
}

/** Words as large as a heading are one. */
const HEADING = 3.5;

/** The role of a line of text on a sheet. */
export const roleOf = ({ size, bold }: Text): Role => (bold && size >= HEADING ? 'H2' : 'P');

/** One page's stretches of content in the order of reading, numbered as its content stream names them. */
export class PageTags {
  readonly tagged: Tagged[] = [];
  private next = 0;

  /** A number for the next stretch; lines of text that follow each other are one paragraph. */
  mark(role: Role, alt: string | null = null): number {
    const last = this.tagged.at(-1);
    const id = this.next++;
    if (role === 'P' && last?.role === 'P') last.marks.push(id);
    else this.tagged.push({ role, alt, marks: [id] });
    return id;
  }
}

/**
 * Writes the tree of what is on the pages: a document of sections, one a sheet with its title, in each its headings, paragraphs and figures.
 * @param pages each page with its title and tags, in order
 */
export function writeTags(
  lib: Library,
  document: PDFDocument,
  pages: readonly { readonly page: PDFPage; readonly title: string; readonly tags: PageTags }[],
): void {
  const { context, catalog } = document;
  const { PDFName, PDFHexString } = lib;
  const [root, whole] = [context.nextRef(), context.nextRef()];
  const sections: PDFRef[] = [];
  const byPage: (number | PDFRef)[] = [];
  pages.forEach(({ page, title, tags }, i) => {
    const section = context.nextRef();
    const owners: PDFRef[] = [];
    const kids = tags.tagged.map(({ role, alt, marks }) => {
      const own = context.register(
        context.obj({
          Type: 'StructElem',
          S: role,
          P: section,
          Pg: page.ref,
          K: marks,
          ...(alt !== null && { Alt: PDFHexString.fromText(alt) }),
        }),
      );
      for (const id of marks) owners[id] = own;
      return own;
    });
    context.assign(
      section,
      context.obj({ Type: 'StructElem', S: 'Sect', P: whole, T: PDFHexString.fromText(title), K: kids }),
    );
    sections.push(section);
    page.node.set(PDFName.of('StructParents'), context.obj(i));
    page.node.set(PDFName.of('Tabs'), PDFName.of('S'));
    byPage.push(i, context.register(context.obj(owners)));
  });
  context.assign(whole, context.obj({ Type: 'StructElem', S: 'Document', P: root, K: sections }));
  const parents = context.register(context.obj({ Nums: byPage }));
  context.assign(
    root,
    context.obj({ Type: 'StructTreeRoot', K: whole, ParentTree: parents, ParentTreeNextKey: pages.length }),
  );
  catalog.set(PDFName.of('StructTreeRoot'), root);
  catalog.set(PDFName.of('MarkInfo'), context.obj({ Marked: true }));
}
