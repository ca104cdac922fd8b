/**
 * Plain English words of three to seven letters, put together for passphrases: none is of
 * the trade, so that one on a slip of paper tells nothing. Data only.
 */
export const SHORT_WORDS = `
able acorn actor adapt admit adult agree ahead alarm album alert alike alive alley allow almond alone along alpha amber amend
ample amuse angle ankle annoy apart apple apron arena argue arise armor array arrow aside asset atlas attic audio aunt autumn
avoid awake award aware baby bacon badge bagel baker balcony ballet bamboo banana banjo bank barley barn baron basic basin basket
bath baton beach beacon beak bean bear beard beast beaver bedroom beef beetle begin belief bell bench berry bicycle bike birch
bird biscuit bison blade blanket blaze blend blink bloom blouse blue board boat body boil bold bolt bonus book boot border borrow
bottle boulder bounce bow bowl brain branch brass brave bread breeze brick bridge bright bring broad bronze brook broom brother
brown brush bubble bucket bud budget build bulb bunch bundle bunny bus bush busy butter button buyer cabin cable cactus cake calf
calm camel camera camp canal candle cane canoe canvas cape card cargo carpet carrot cart carve castle casual cattle cave cedar
ceiling celery cellar cement cereal chain chair chalk change chapel charm chase cheap cheek cheese cherry chess chest chief child
chimney choir chorus cider cinema circle citizen citrus city claim clap clay clean clerk clever cliff climb cloak clock closet
cloth cloud clover clown club coach coal coast coat cobweb cocoa coffee coin cold collar color comb comedy comet comic common
copper coral cork corn corner cotton couch count cousin cover cow cozy crab cradle craft crane crate crayon cream creek crew
cricket crisp crop crow crowd crown crumb crust cube cuckoo cup curl curtain curve cushion cycle daily dairy daisy damp dance
danger daring dark dash date dawn day deal debate decade deck deer degree delight deliver delta den dental depot desert design
desk detail dial diamond diary dice diet dig digit dime diner dinner direct dish ditch dive dock doll dolphin donkey door dot
dough dove dozen draft dragon drama draw dream dress drift drill drink drive drum duck duke dune dusk dust duty dwarf eager eagle
early earn earth easel east easy echo edge edit effort egg elbow elder elect elk elm ember empty endless engine enjoy enter entry
equal errand escape essay evening event exact exam exit extra eye fable fabric face factor fair fairy falcon fame family fan fancy
farm fast father fault favor feast feather fence fern ferry fiber fiddle field fig figure film finch find fine finger finish fire
firm first fish flag flame flannel flash flat flavor fleet flint float flock flood floor flour flow flower flute foam focus fog
fold folk food forest fork form fort fossil fox frame free fresh friend frog front frost fruit fudge fuel full fun funny fur
future galaxy gallery game garage garden garlic gate gather gem gentle giant gift ginger giraffe give glad glass globe glove glow
glue goat gold golf good goose gown grain grand grape graph grass gravel gravy gray green grid grill grip group grove grow guard
guess guest guide guitar gulf gym habit hair half hall hammer hand handle happy harbor hard harp harvest hat hawk hay hazel heap
heart heat heavy hedge height helmet help herb hero heron hike hill hinge hobby hockey hold holiday hollow home honest honey hood
hook hope horn horse hotel hour house human humble hunt hurry hut ice idea igloo image inch index indoor ink inlet insect inside
invite iris iron island item ivory ivy jacket jam jar jazz jeans jelly jewel job join joke jolly journal joy judge juice jump
jungle junior jury just kayak keen keep kettle key kick kind king kiosk kitchen kite kitten knee knife knit knock knot koala label
lace ladder lady lake lamb lamp land lane lantern laptop large laser last late laugh laundry lava lawn layer lazy leader leaf
learn leather ledge left legend lemon length lesson letter level lever library lift light lilac lily lime limit linen lion lip
list listen little live lizard llama loaf lobby lobster local lock locket log logic long loop lotus loud love loyal luck lucky
lumber lunar lunch lyric machine magic magnet maid mail major mammal mango map maple marble march market marsh mask mason mast
match maze meadow meal medal meet melody melon member memory mention menu merry metal meteor meter middle mild mile milk mill
mimic mind mineral minor mint minute mirror mist mix mobile model modern moment money monkey month moon moose morning mosaic moss
mother motion motor mound mouse mouth move movie muffin mug mule museum music mustard myth nail name napkin narrow nature navy
near neat neck needle nephew nest net never new nice niece night nine noble nod noise noodle noon north nose note novel nugget
number nut nylon oak oasis oat object ocean octave odd offer office oil olive omelet onion open opera orange orbit orchard orchid
order organ otter outdoor outer oval oven owl owner oyster pack paddle page paint pair palace palm pan panda panel pantry paper
parade parcel park parrot part party pasta paste patch path pattern pause paw peace peach peak peanut pear pearl pebble pedal
pelican pen pencil penny people pepper perfect period pet phone photo piano pick picnic picture piece pig pigeon pillow pilot pin
pine pink pipe pirate pitch pizza place plain plan planet plant plate play plaza please plenty plum pocket poem poet point polar
pole polite pond pony pool poppy porch port post potato pottery powder prairie present press pretty price prince print prize proof
proud public pudding pump pumpkin pupil puppet puppy pure purple purse puzzle quail quart queen quest quick quiet quill quilt quiz
quote rabbit raccoon race radar radio raft rail rain raisin rake ranch range rapid raven razor reach read ready reason recipe
record red reef relax relay remote rent repair reply rescue rest result return reward rhyme rhythm ribbon rice rich ride ring ripe
river road roast robin robot rock rocket roof room root rope rose round route row royal rubber rug rule runner rural rustic saddle
safari safe sail salad salmon salt sample sand sandal satin sauce saucer scale scarf scene school science scout screen script sea
seal search season seat second secret seed select senior sense series seven shade shadow shape share shark shed sheep sheet shelf
shell shelter shield shine ship shirt shoe shop shore short shout shovel show shrimp shrub side sign signal silent silk silver
simple sing sister six skate sketch ski skill skirt sky slate sleep sleeve slice slide slope slow small smart smile smoke smooth
snack snail snow soap soccer sock soda sofa soft soil solar solid song sort soup south space spark speak speed spell spice spider
spin spiral spoon sport spot spray spring spruce square squash squid stable staff stage stair stamp star start state statue steam
steel steep stem step stereo stick still stitch stone stool store storm story stove straw stream street string strong studio style
sugar suit summer sun sunny super surf swan sweet swim swing sword symbol syrup system table tablet tail talent tango tank tape
target taxi tea teach team teapot tennis tent test text thank theme thick thin thread three throne thumb thunder ticket tide tidy
tiger tile timber time tiny tip toast today toe tomato tone tool tooth top topic torch total touch tour towel tower town toy track
trade trail train travel tray tree trend trial tribe trick trip trophy truck true trumpet trunk trust truth tube tulip tuna tunnel
turkey turn turtle tutor twelve twig twin two type uncle under union unit upper urban useful usual vacuum valley value van vanilla
vase velvet vendor verb verse vest video view village vine violet violin visit visual vivid vocal voice volume vote voyage wafer
wagon waist walk wall walnut walrus wander warm wash water wave wax way wealth weather weave web week welcome west whale wheat
wheel whisper white wide willow win wind window wing winter wise wish wolf wonder wood wool word work world wrap wreath wren wrist
write yacht yard yarn year yellow yes yogurt young youth zebra zero zigzag zinc zone zoo
`.trim().split(/\s+/);
