"""One example for each verb, shown with its help."""

from typing import Final

EXAMPLES: Final = {
    "check": "coach check my-belt.yaml --watch",
    "plan": "coach plan tide-band --length '20 cm'",
    "sizes": "coach sizes --units in",
    "knot": "coach knot reed-keyring --name 'for the shop'",
    "keys": "coach keys",
    "pieces": "coach pieces --json",
    "how": "coach how square knot",
    "new": "coach new my-belt.yaml",
    "words": "coach words tide-band --markdown",
    "card": "coach card tide-band -o card.html",
    "manual": "coach manual writing",
    "completion": "coach completion bash",
    "export": "coach export 'Tide band' band.coach",
    "import": "coach import band.coach",
    "mend": "coach mend",
}
