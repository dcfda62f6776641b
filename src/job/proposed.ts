import type { Defect } from './stock';

/** Whether a photo proposed a defect and nobody has settled it yet. The plan counts on it all the same, and says so. */
export const isProposed = ({ confidence }: Pick<Defect, 'confidence'>): boolean => confidence !== undefined;

/** What is said of one, wherever it is used. */
export const NOT_CONFIRMED = 'proposed by the photo, not confirmed by you';
