// What htmx does not do by itself: one script for each concern.

import "./connection.js";
import "./order.js";
import "./leaving.js";
import "./redrawing.js";
import "./drafts.js";
import "./conflicts.js";
import "./grid.js";
import "./lines.js";
import "./corner.js";
import "./opening.js";
import "./models.js";
import "./printing.js";
import "./ticking.js";
import "./caliper.js";
import "./terms.js";
import "./drawers.js";
import "./heights.js";
