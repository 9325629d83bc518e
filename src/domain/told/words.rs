//! The words that running speech about cooking is read by.
//!
//! British and American kitchen use, from memory. A word that is not here is a name or talk.

/// What a measure is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// By weight or volume: what stands behind is a food.
    Measured,
    /// Tins, packets: a food only behind `of`.
    Container,
    /// Cloves, sprigs, slices.
    Part,
    /// Pinch, splash: an amount nobody weighs.
    Loose,
}

/// Words, and how a card writes them; an empty form stands for the word itself.
const MEASURES: &[(&str, &str, Measure)] = &[
    ("g gram grams gramme grammes", "g", Measure::Measured),
    ("kg kilo kilos kilogram kilograms", "kg", Measure::Measured),
    ("ml mil mils millilitre millilitres milliliter milliliters", "ml", Measure::Measured),
    ("dl decilitre decilitres", "dl", Measure::Measured),
    ("l litre litres liter liters", "l", Measure::Measured),
    ("oz ounce ounces", "oz", Measure::Measured),
    ("lb lbs pound pounds", "lb", Measure::Measured),
    ("pint pints", "pint", Measure::Measured),
    ("quart quarts", "quart", Measure::Measured),
    ("gallon gallons", "gallon", Measure::Measured),
    ("cup cups cupful cupfuls", "cup", Measure::Measured),
    (
        "tbsp tbsps tbs tablespoon tablespoons tablespoonful tablespoonfuls",
        "tbsp",
        Measure::Measured,
    ),
    ("tsp tsps teaspoon teaspoons teaspoonful teaspoonfuls", "tsp", Measure::Measured),
    ("dsp dessertspoon dessertspoons dessertspoonful", "dsp", Measure::Measured),
    ("packet pack package sachet", "packet", Measure::Container),
    ("packets packs packages sachets", "packets", Measure::Container),
    ("tub pot", "tub", Measure::Container),
    ("tubs pots", "tubs", Measure::Container),
    ("head bulb", "head", Measure::Part),
    ("heads bulbs", "heads", Measure::Part),
    ("slice rasher", "slice", Measure::Part),
    ("slices rashers", "slices", Measure::Part),
    ("stalk rib", "stalk", Measure::Part),
    ("stalks ribs", "stalks", Measure::Part),
    ("piece thumb", "piece", Measure::Part),
    ("pieces thumbs", "pieces", Measure::Part),
    ("cl", "", Measure::Measured),
    (
        "tin tins can cans jar jars punnet punnets carton cartons bottle bottles bag bags",
        "",
        Measure::Container,
    ),
    ("block blocks ball balls loaf", "", Measure::Container),
    (
        "clove cloves sprig sprigs bunch bunches stick sticks sheet sheets leaf leaves",
        "",
        Measure::Part,
    ),
    ("ear ears cube cubes", "", Measure::Part),
    (
        "knob pinch pinches dash splash glug glugs squeeze drizzle dollop handful",
        "",
        Measure::Loose,
    ),
    ("handfuls drop drops", "", Measure::Loose),
];

/// The word as a card writes it.
pub fn measure(word: &str) -> Option<(&'static str, Measure)> {
    let word = word.trim_end_matches('.');
    MEASURES.iter().find_map(|(words, form, kind)| {
        let own = words.split(' ').find(|it| *it == word)?;
        Some((if form.is_empty() { own } else { form }, *kind))
    })
}

fn is_in(words: &str, word: &str) -> bool {
    words.split(' ').any(|it| it == word)
}

/// Before a measure or a food; they change neither the figure nor what is bought.
pub fn is_size(word: &str) -> bool {
    is_in(SIZES, word)
}

const SIZES: &str = "heaped heaping level rounded good generous scant full big large small medium whole \
    nice decent proper fat little medium-sized big-ish tiny hefty";

/// A name of food ends before these.
pub fn ends_name(word: &str) -> bool {
    is_in(ENDS, word) || is_order(word)
}

const ENDS: &str = "a an the this that these those my your his her our their it its it's them they you i \
    we he she and plus with in into to on onto for from over under until till then so \
    which who at by if when while as but or is are was were be goes go going get gets give \
    gives want wants need needs make makes each per there there's here now just too also \
    again please really maybe about after before because through all both some more up \
    down off out round around between together any well first right okay that's has have \
    can will should don't not no than like per-person across depending left apiece today \
    ready";

/// Words that tell the cook to do something, and are no food.
pub fn is_order(word: &str) -> bool {
    is_in(ORDERS, word)
}

const ORDERS: &str = "add bake beat blend blitz boil bring chop chuck coat combine cook cover crack crumble \
    crush cut dissolve divide drain drop dust fill flip fold freeze fry glaze grab grate \
    grease halve heat knead ladle layer leave lift line marinate mash melt mix pat peel \
    pick pile place poach pour preheat prick pull put reduce refrigerate rinse rub sauté \
    saute scatter scoop scrape sear serve set shake shape shove shred sift simmer sit \
    slice slide soak spoon spread sprinkle squash steam stir strain stuff sweat take taste \
    tear throw tip toss transfer trim turn warm wash whisk wrap whip whizz wilt wipe bung \
    start score soften sizzle char skim squeeze keep let use try unmould unmold microwave \
    deglaze caramelise caramelize baste finish brush";

/// Orders that are names of food as well, so that they end no name.
pub fn is_order_too(word: &str) -> bool {
    is_in(BOTH, word)
}

const BOTH: &str = "brown chill cool cream dice dress dry flake garnish grill grind mince press rest roast \
    roll salt season toast top";

/// What has been done to a food, behind or before its name.
pub fn is_done_to(word: &str) -> bool {
    is_in(DONE, word)
}

const DONE: &str = "chopped sliced diced minced grated shredded crushed peeled cubed halved quartered \
    melted softened toasted beaten sifted cooked drained rinsed trimmed torn crumbled \
    mashed pitted stoned seeded deseeded squeezed zested juiced thawed scrubbed washed \
    cored shelled blanched chilled warmed cold warm cut picked bashed bruised snipped \
    separated whisked soaked salted shaved flaked smashed roasted ground finely roughly \
    coarsely thinly thickly freshly lightly nicely";

/// Behind a figure these are no food.
pub fn is_no_food(word: &str) -> bool {
    is_in(NO_FOOD, word)
}

const NO_FOOD: &str = "minute minutes min mins hour hours day days week weeks month months degree degrees \
    percent inch inches cm mm people guests time times layer layers half halves piece \
    pieces batch batches bowl bowls pan pans dish dishes tin tins tray trays jug mould \
    mold ramekin ramekins jar jars pot board sheet skillet plate plates glass glasses oven \
    side sides wedges person portions";

/// Nouns that name a dish rather than what goes in it.
pub fn is_dish(word: &str) -> bool {
    let has = |word: &str| is_in(DISHES, word);
    has(word) || word.strip_suffix('s').is_some_and(has) || word.strip_suffix("es").is_some_and(has)
}

const DISHES: &str = "roast soup stew salad cake tart tartlet pie curry chilli chili casserole gratin loaf bread \
    flatbread bun biscuit cookie pudding crumble cobbler crisp fool trifle mousse jelly \
    sorbet tagine dal daal dhal pilaf pilau risotto paella lasagne lasagna stir-fry \
    frittata omelette omelet quiche taco burrito enchilada fritter pancake waffle dumpling \
    meatball meatloaf burger kebab skewer kofta falafel hummus houmous terrine pâté pate \
    chowder broth gumbo jambalaya ragu bolognese moussaka shakshuka slaw coleslaw \
    tabbouleh relish chutney focaccia scone muffin brownie cheesecake pavlova meringue \
    compote granola porridge kedgeree hotpot goulash stroganoff ratatouille caponata \
    gnocchi galette parcel sandwich fishcake mash traybake cornbread shortbread flapjack \
    biryani polenta samosa pakora blini crostini bruschetta gazpacho ceviche posole pozole \
    tamale ramen laksa pho congee bake hash roulade clafoutis semifreddo granita ice-cream \
    parfait posset syllabub blancmange custard rice noodle beans";

/// Parts of a dish: named with `the`, they begin no dish of their own.
pub fn is_part(word: &str) -> bool {
    is_in(PARTS, word)
}

const PARTS: &str = "dressing topping sauce filling pastry marinade glaze crust base dough syrup icing \
    frosting gravy batter stuffing crumb crumbs dip salsa pesto vinaigrette mayonnaise \
    mayo garnish croutons drizzle rub stock custard caramel oil butter seasoning";
