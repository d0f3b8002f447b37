"""The contract between the rules and the code around the reasoner.

These are the predicates that code asserts or asks for by name. Whoever writes rules
for another base keeps to their names, the number of their terms and what these mean;
every other predicate of the rule files is the affair of the rules alone.

Asserted are facts of the base (`type`), of a label (`product`, `kind`, `line`,
`stated`) and of the question itself (`asks…`, `circumstance`). Asked for are what
follows: what a thing is, what a product leaves and what a wash does to it, and what a
reader is told beside that. `TERMS` names the terms of each.
"""

from __future__ import annotations

from collections.abc import Mapping

# How much a label can mean, and whether that is as a question asks
LEVEL, ASKS_LEVEL, ASKS_BETWEEN = "level", "asksLevel", "asksBetween"
LEVEL_ABOVE, LEVEL_AT_LEAST = "levelAbove", "levelAtLeast"
LEVEL_BELOW, LEVEL_AT_MOST = "levelBelow", "levelAtMost"
LEVEL_AT, LEVEL_WITHIN = "levelAt", "levelWithin"
# What a thing is
TYPE, ISA = "type", "isa"
# What the axioms of the base say of its classes
SUBCLASS = "subclass"
DEFINED_BY_VALUE, DEFINED_BY_TRAIT = "definedByValue", "definedByTrait"
# What a label says
PRODUCT, KIND, LINE, LISTED, STATED = "product", "kind", "line", "listed", "stated"
SOLD_IN, UNORDERED, UNREAD_LINE = "soldIn", "unordered", "unreadLine"
STATED_AT_MOST, MAY_CONTAIN, IN_BLEND = "statedAtMost", "mayContain", "inBlend"
OUT_OF_ORDER, WITHIN_ANOTHER = "outOfOrder", "withinAnother"
COULD_FORM, CARBON_CHAIN, ETHOXYLATION = "couldForm", "carbonChain", "ethoxylation"
IONIC_EXCESS = "ionicExcess"
# What a question is about
ASKS_WASH, ASKS_FILM, ASKS_FROM = "asksWash", "asksFilm", "asksFrom"
ASKS_ABOUT, CIRCUMSTANCE = "asksAbout", "circumstance"
# What the answers are
VERDICT, LEAVES, MAY_LEAVE = "verdict", "leaves", "mayLeave"
LEAVES_NONE, LEAVING_UNKNOWN = "leavesNone", "leavingUnknown"
LOWER, UPPER, CONTESTED = "lower", "upper", "contested"
REFUTED = "refutedInferred"
# What stands beside them
ACTS, TRIED, SET_ASIDE, LATE = "acts", "tried", "setAside", "late"
SERVES_OTHERWISE, PERHAPS_HELPS = "servesOtherwise", "perhapsHelps"
OUT_OF_PLAY, IN_DOUBT = "outOfPlay", "inDoubt"
READING, HAS_GRADES, ON_NO_LABEL = "reading", "hasGrades", "onNoLabel"
# What claims bound, and what follows for one agent and one film
BOUND_AT, BEARS_ON = "boundAt", "bearsOn"
YIELDS, RESISTS = "yields", "resists"
# As which classes an agent and a film are judged, and what keeps an agent from a film
BEHAVES_AS, FILM_AS, FOILS = "behavesAs", "filmAs", "foils"
# That all which may act in it together resists
HOLDS_OUT = "holdsOut"
# Who may act besides, and what the wash leaves of the same family
MAY_ACT, PUTS_BACK = "mayAct", "putsBack"
# In which ways of washing bounds are judged
SETTING, SETS, NAMED_ALONE = "setting", "sets", "namedAlone"
# What conditions and amounts do to them
PRESENT, HINGES, HINGES_LEFT = "present", "hinges", "hingesLeft"
AMOUNT_BEARS_ON = "amountBearsOn"
# What is told beside them and changes none
REMARK, REMARK_ON_LEFT = "remark", "remarkOnLeft"
# What is told of a saying
TELLS = "tells"
# How washes compare, and whether one is mild or strong by itself
MILDER, MILD, STRONG = "milderWash", "mildWash", "strongWash"
TRADED_HARSH = "tradedHarsh"
# How mild a wash is, test by test, and what decides it
SHOWS, DECIDES, FIGURED = "shows", "decides", "figured"
SOFTENED_BY, UNFIGURED, MAY_LEAD = "softenedBy", "unfigured", "mayLead"
PLACED_AS, TOLD_OF, CLEANSER = "placedAs", "toldOf", "cleanser"
MILDER_BY, UNREAD_AT_WORK = "milderBy", "unreadAtWork"
# How strong a wash is, by families of films
STRENGTH_FAMILY, STRONGER_ON = "strengthFamily", "strongerOn"
TAKES_AS_MUCH, STRONG_FOR, REMOVED_BY = "takesAsMuch", "strongFor", "removedBy"
# What a routine says: what is used when, and what is asked of it
ASKS_ACCOUNT, COUNTS_AS, AT_HAND = "asksAccount", "countsAs", "atHand"
WASHED_AT, PUT_ON_AT = "washedAt", "putOnAt"
FIRST_USE, NEXT_USE, IN_TIME, SOON_AFTER = "firstUse", "nextUse", "inTime", "soonAfter"
# What follows for it
AT_MOST, AT_LEAST = "usesAtMost", "usesAtLeast"
NEVER_OFF, NEVER_SURELY_OFF = "neverOff", "neverSurelyOff"
KEPT_OFF, NOT_CLEARABLE = "keptOff", "notClearable"
LEFT_UNCONDITIONED = "leftUnconditioned"
USED_IN, COUNTS_STRONG = "usedIn", "countsStrong"
LEVELS_OFF, FILLS_UP, CONDITIONS = "levelsOff", "fillsUp", "conditions"
FEELS_CONDITIONED = "feelsConditioned"
# What a wash can be built on
PRIMARY_CLEANSER = "primaryCleanser"
# What measured shares say, and what they count as
SHARE_LOW, ALL_FROM, PART_FROM = "shareLow", "allFrom", "partFrom"

TERMS: Mapping[str, tuple[str, ...]] = {
    TYPE: ("thing", "class"),
    ISA: ("thing", "class"),
    SUBCLASS: ("class", "class"),
    DEFINED_BY_VALUE: ("class", "wider", "property", "value"),
    DEFINED_BY_TRAIT: ("class", "wider", "property"),
    PRODUCT: ("product",),
    KIND: ("product", "kind"),
    LINE: ("product", "place", "ingredient"),
    LISTED: ("product", "ingredient"),
    STATED: ("product", "place", "percent"),
    SOLD_IN: ("product", "market"),
    UNORDERED: ("product",),
    UNREAD_LINE: ("product", "place"),
    STATED_AT_MOST: ("product", "place", "percent"),
    MAY_CONTAIN: ("product", "place", "ingredient"),
    IN_BLEND: ("product", "place"),
    OUT_OF_ORDER: ("product", "place"),
    WITHIN_ANOTHER: ("product", "place"),
    COULD_FORM: ("product", "made"),
    CARBON_CHAIN: ("thing", "carbons"),
    ETHOXYLATION: ("thing", "moles"),
    IONIC_EXCESS: ("product", "milliequivalents"),
    ASKS_WASH: ("wash",),
    ASKS_FILM: ("film",),
    ASKS_FROM: ("product",),
    ASKS_ABOUT: ("thing",),
    CIRCUMSTANCE: ("condition",),
    LEVEL: ("product", "place", "percent"),
    ASKS_LEVEL: ("percent",),
    ASKS_BETWEEN: ("percent", "percent"),
    LEVEL_ABOVE: ("product", "ingredient", "percent"),
    LEVEL_AT_LEAST: ("product", "ingredient", "percent"),
    LEVEL_BELOW: ("product", "ingredient", "percent"),
    LEVEL_AT_MOST: ("product", "ingredient", "percent"),
    LEVEL_AT: ("product", "ingredient", "percent"),
    LEVEL_WITHIN: ("product", "ingredient", "percent", "percent"),
    VERDICT: ("wash", "film", "product", "verdict"),
    LEAVES: ("product", "film"),
    MAY_LEAVE: ("product", "film"),
    LEAVES_NONE: ("product", "film"),
    LEAVING_UNKNOWN: ("product", "ingredient"),
    LOWER: ("wash", "film", "product", "effect"),
    UPPER: ("wash", "film", "product", "effect"),
    CONTESTED: ("wash", "film", "product", "effect"),
    REFUTED: ("agent", "film", "agent", "film", "setting"),
    ACTS: ("wash", "agent"),
    TRIED: ("wash", "film", "agent"),
    SET_ASIDE: ("wash", "agent"),
    LATE: ("product", "ingredient"),
    SERVES_OTHERWISE: ("wash", "agent"),
    PERHAPS_HELPS: ("wash", "agent"),
    OUT_OF_PLAY: ("wash", "agent"),
    IN_DOUBT: ("wash", "agent"),
    READING: ("film", "product", "grade"),
    HAS_GRADES: ("film",),
    ON_NO_LABEL: ("class",),
    MAY_ACT: ("wash", "agent"),
    PUTS_BACK: ("wash", "film"),
    BOUND_AT: ("claim", "agent", "film"),
    BEARS_ON: ("claim", "agent", "film"),
    YIELDS: ("agent", "film", "setting", "effect"),
    RESISTS: ("agent", "film", "setting", "effect"),
    BEHAVES_AS: ("agent", "class"),
    FILM_AS: ("film", "class"),
    FOILS: ("wash", "agent", "film"),
    HOLDS_OUT: ("wash", "film", "setting", "effect"),
    SETTING: ("setting",),
    SETS: ("setting", "condition"),
    NAMED_ALONE: ("thing", "class"),
    PRESENT: ("condition",),
    HINGES: ("wash", "film", "claim"),
    HINGES_LEFT: ("product", "claim"),
    TELLS: ("saying", "claim"),
    REMARK: ("wash", "film", "topic"),
    REMARK_ON_LEFT: ("product", "film", "topic"),
    AMOUNT_BEARS_ON: ("class", "class"),
    MILDER: ("wash", "wash"),
    MILD: ("wash",),
    STRONG: ("wash",),
    TRADED_HARSH: ("agent",),
    SHOWS: ("wash", "test", "low", "high"),
    DECIDES: ("wash", "place", "agent"),
    FIGURED: ("thing", "test", "low", "high"),
    SOFTENED_BY: ("wash", "agent"),
    UNFIGURED: ("wash", "test"),
    MAY_LEAD: ("wash", "agent"),
    PLACED_AS: ("wash", "agent", "claim"),
    TOLD_OF: ("wash", "agent", "claim"),
    CLEANSER: ("agent",),
    MILDER_BY: ("wash", "wash", "test"),
    UNREAD_AT_WORK: ("wash",),
    STRENGTH_FAMILY: ("family",),
    STRONGER_ON: ("wash", "wash", "family"),
    TAKES_AS_MUCH: ("wash", "wash", "family"),
    STRONG_FOR: ("wash", "family"),
    REMOVED_BY: ("wash", "agent", "figure"),
    ASKS_ACCOUNT: ("film", "source", "target"),
    COUNTS_AS: ("effect", "way"),
    AT_HAND: ("wash",),
    WASHED_AT: ("use", "wash"),
    PUT_ON_AT: ("use", "product"),
    FIRST_USE: ("use",),
    NEXT_USE: ("use", "use"),
    IN_TIME: ("use", "use"),
    SOON_AFTER: ("use", "use"),
    AT_MOST: ("film", "source", "use", "uses"),
    AT_LEAST: ("film", "source", "use", "uses"),
    NEVER_OFF: ("film", "source"),
    NEVER_SURELY_OFF: ("film", "source"),
    KEPT_OFF: ("film", "source", "use", "use"),
    NOT_CLEARABLE: ("film", "source"),
    LEFT_UNCONDITIONED: ("use", "wash"),
    USED_IN: ("product",),
    COUNTS_STRONG: ("wash",),
    LEVELS_OFF: ("film", "source"),
    FILLS_UP: ("film", "source"),
    CONDITIONS: ("kind",),
    FEELS_CONDITIONED: ("class",),
    PRIMARY_CLEANSER: ("agent",),
    SHARE_LOW: ("claim", "percent"),
    ALL_FROM: ("percent",),
    PART_FROM: ("percent",),
}

WORDS: Mapping[tuple[str, int], tuple[str, ...]] = {
    (COUNTS_AS, 1): ("clearing", "either", "nothing"),
}
"""Words that code asserts and no base describes, by predicate and place from zero."""
