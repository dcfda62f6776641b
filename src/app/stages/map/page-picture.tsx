import { useEffect, useState } from 'preact/hooks';

/** A sheet as it will print. It is shown as an image: whatever a name in it says, nothing in it runs. */
export function PagePicture({ svg, title }: { svg: string; title: string }) {
  const [url, setUrl] = useState<string | null>(null);
  useEffect(() => {
    const made = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [svg]);
  return <div class="page-picture">{url && <img src={url} alt={`Sheet: ${title}`} />}</div>;
}
