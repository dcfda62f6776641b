/** Performance as ratios in one run: the machine is shared, so a time alone says nothing. Run: npm run bench. */
import './board';
import './seam';
import './keys';
import './leaves';
import './papers';
import './six-slabs';
import './surface';
import './trace';
import './yard';
