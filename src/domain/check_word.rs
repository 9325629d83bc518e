//! The word on paper that names one fixed text: a plain noun, two when the first is taken.

/// Short nouns of kitchen, wood and sky; none is another's plural, none sounds like its neighbour.
const NOUNS: &str = "\
acorn alder almond anchovy apple apricot apron arbour aspen aster auk badger bagel bamboo banana \
barge barley barrel basil basin basket batch bay beaker bean beech beet bellows bench berry birch \
biscuit bittern blackbird blossom board bobbin bonnet bough bowl box bracken bramble bran bread \
briar brick bridge brine brook broom broth bucket bulb bunting burdock butter button buzzard \
cabbage cabin cake candle canoe caper caraway cardoon carrot cask cedar celery cellar chard \
cherry chervil chestnut chicory chimney chive cinder citron clock clove clover cobble cockle \
coin colander comet comfrey copper coral cord cork corn cottage cotton cowslip crab cradle crane \
cream cress crock crocus crumb crust cuckoo cumin cup curd curlew currant curtain cushion custard \
daisy damson dandelion date dill dipper dogwood dough dove dresser drift drum duck dumpling dunlin \
eagle egret elder elm ember endive ermine fable falcon feather fennel fern ferry fiddle field fig \
finch fir flagon flask flax flint flour flute fork fountain foxglove freckle furrow gannet garland \
garlic garnet gate ginger glove goblet goose gorse gourd grain granite grape gravel grebe grouse \
guava gull hamper hamster handle harbour hare harp hatch haven hawk hawthorn hazel heath heather \
hedge heron herring hickory hive hollow holly honey hoop hop hornbeam hyssop icicle inkwell iris \
island ivory ivy jackdaw jam jar jasmine jay jelly jug juniper kale kelp kestrel kettle kite \
knot lace ladder ladle lamp lantern larch lark lattice laurel lava lavender leaf ledge leek \
lemon lentil lettuce lilac lily lime linden linen linnet lobster locket loft loom lovage lupin \
magpie mallard mallow mango mantle maple marble marjoram market marrow martin meadow medlar \
melon mesh mill mint mitten moor morel mortar moss mulberry mushroom mussel mustard myrtle \
nectar needle nest nettle nightjar nougat nutmeg oak oar oat olive onion orange orchard oregano \
oriole osprey otter oven owl oyster paddle pail palm pan pancake pansy papaya parcel parsley \
parsnip partridge pasture peach peacock pear pebble pecan pelican pepper perch petal petrel \
pheasant pickle pie pigeon pillow pine pipit plaice planet platter plough plover plum pocket \
pollen pond poplar poppy porridge potato prawn primrose puffin pumpkin purse quail quarry quartz \
quill quilt quince rabbit radish raft rail raisin rake raspberry raven reed ribbon rice ridge \
ripple robin rocket rook rosehip rosemary rowan rudder rush rye saddle saffron sage salmon salt \
sandal sardine satchel saucer scallop sedge seed sesame shallot shell shelter sherbet shovel \
shrimp shrub sieve silk siskin sloe snipe snow sorrel sparrow spinach sponge spoon spruce squash \
squirrel starling stem stork stove straw sugar sumac sundial swallow swan swift sycamore syrup \
table tansy tarragon teal teapot tern thicket thimble thistle thrush thyme tile toast toffee \
tomato topaz towel tray treacle trellis trout truffle trumpet tulip turnip turtle twig twine \
umber urn valley vanilla velvet vine violet waffle wagon wagtail walnut warbler water wax weasel \
wheat wheel whisk willow window wren yarrow yew yoghurt zest";

/// The words a text may bear, best first, from the checksum of the text alone.
///
/// Storage takes the first that no other text of the school has. There are far more pairs than any
/// school will print sheets, so the search ends.
pub fn candidates(hash: &[u8; 32]) -> impl Iterator<Item = String> {
    let nouns: Vec<&'static str> = NOUNS.split_whitespace().collect();
    let at = |pair: &[u8]| usize::from(u16::from_be_bytes([pair[0], pair[1]])) % nouns.len();
    let [first, second, third] = [at(&hash[0..2]), at(&hash[2..4]), at(&hash[4..6])];
    let one = std::iter::once(nouns[first].to_owned());
    let count = nouns.len();
    let two = (0..count * count).map(move |step| {
        let left = (second + step / count) % count;
        let right = (third + step) % count;
        format!("{} {}", nouns[left], nouns[right])
    });
    one.chain(two)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn the_nouns_are_many_short_and_different() {
        let nouns: Vec<_> = NOUNS.split_whitespace().collect();
        let different: BTreeSet<_> = nouns.iter().collect();
        assert_eq!(different.len(), nouns.len());
        assert!(nouns.len() >= 400, "{}", nouns.len());
        for noun in nouns {
            assert!((3..=10).contains(&noun.len()), "{noun}");
            assert!(noun.bytes().all(|sign| sign.is_ascii_lowercase()), "{noun}");
        }
    }

    #[test]
    fn the_same_text_is_offered_the_same_words_and_one_noun_first() {
        let words: Vec<_> = candidates(&[7; 32]).take(50).collect();
        assert_eq!(words, candidates(&[7; 32]).take(50).collect::<Vec<_>>());
        assert!(!words[0].contains(' '), "{}", words[0]);
        assert!(words[1..].iter().all(|word| word.split(' ').count() == 2), "{words:?}");
        assert_eq!(words.iter().collect::<BTreeSet<_>>().len(), 50);
    }
}
