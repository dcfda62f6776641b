/**
 * Species facts, one row each, copied cell by cell from the United States Forest Products Laboratory's Wood Handbook,
 * FPL-GTR-190 (2010): shrinkage S from green to ovendry in % (Tables 4-3 and 4-4), specific gravity G on green volume and at 12 %
 * (Tables 5-3b, 5-5b), strengths of small clear pieces at 12 % moisture in psi (the same), coefficients of dimensional change
 * C per % of moisture between 6 and 14 % (Table 13-5). A letter behind a figure says how far it was checked:
 * none read in the handbook or in a table that names it; s read in another published listing; p read as MPa to one decimal, which
 * the psi figure (from memory) agrees with; m from memory, not seen. "-" the handbook has no value, or none was collected.
 */
export const SPECIES_TABLE = `
id                   | name                  | latin                   | kind     | S_R  | S_T   | S_V   | G green | G 12  | MOR    | comp  | shear | tens  | C_R      | C_T
walnut_black         | Black walnut          | Juglans nigra           | hardwood | 5.5  | 7.8   | 12.8  | 0.51    | 0.55  | 14600  | 7580  | 1370  | 690p  | 0.00190  | 0.00274
oak_white            | White oak             | Quercus alba            | hardwood | 5.6  | 10.5  | 16.3  | 0.60    | 0.68  | 15200  | 7440  | 2000  | 800p  | 0.00180  | 0.00365
oak_red_northern     | Northern red oak      | Quercus rubra           | hardwood | 4.0s | 8.6s  | 13.7s | 0.56    | 0.63  | 14300  | 6760  | 1780m | 800p  | 0.00158  | 0.00369
cherry_black         | Black cherry          | Prunus serotina         | hardwood | 3.7  | 7.1   | 11.5  | 0.47    | 0.50  | 12300  | 7110  | 1700  | 560p  | 0.00126  | 0.00248
maple_sugar          | Sugar (hard) maple    | Acer saccharum          | hardwood | 4.8s | 9.9s  | 14.7s | 0.56    | 0.63  | 15800  | 7830  | 2330  | -     | 0.00165  | 0.00353
maple_red            | Red (soft) maple      | Acer rubrum             | hardwood | 4.0m | 8.2m  | 12.6m | 0.49m   | 0.54  | 13400m | 6540m | 1850m | -     | 0.00137  | 0.00289
maple_silver         | Silver (soft) maple   | Acer saccharinum        | hardwood | 3.0s | 7.2s  | 12.0s | 0.44s   | 0.47s | 8900   | 5220  | 1480m | 500p  | 0.00102  | 0.00252
ash_white            | White ash             | Fraxinus americana      | hardwood | 4.9  | 7.8   | 13.3  | 0.55    | 0.60  | 15000  | 7410  | 1910  | 940p  | 0.00169  | 0.00274
elm_american         | American elm          | Ulmus americana         | hardwood | 4.2  | 9.5   | 14.6  | 0.46m   | 0.50  | 11800m | 5520  | 1510  | 660p  | 0.00144  | 0.00338
hickory_shagbark     | Shagbark hickory      | Carya ovata             | hardwood | 7.0s | 10.5s | 16.7s | 0.64m   | 0.72  | 20200m | 9210  | 2430  | -     | 0.00259m | 0.00411
sycamore             | American sycamore     | Platanus occidentalis   | hardwood | 5.0  | 8.4   | 14.1  | 0.46m   | 0.49m | 10000m | 5380m | 1470m | 720p  | 0.00172  | 0.00296
yellow_poplar        | Yellow-poplar         | Liriodendron tulipifera | hardwood | 4.6  | 8.2   | 12.7  | 0.40    | 0.42  | 10100  | 5540  | 1190  | 540   | 0.00158m | 0.00289m
butternut            | Butternut             | Juglans cinerea         | hardwood | 3.4  | 6.4   | 10.6  | 0.36m   | 0.38  | 8100m  | 5110  | 1170  | 440p  | 0.00116  | 0.00223
honeylocust          | Honeylocust           | Gleditsia triacanthos   | hardwood | 4.2m | 6.6m  | 10.8m | 0.60m   | -     | 14700m | 7500  | 2250  | 900p  | 0.00144  | 0.00230
locust_black         | Black locust          | Robinia pseudoacacia    | hardwood | 4.6m | 7.2m  | 10.2m | 0.66m   | 0.69  | 19400m | 10180 | 2480  | 640p  | 0.00158  | 0.00252
cottonwood_eastern   | Eastern cottonwood    | Populus deltoides       | hardwood | 3.9  | 9.2   | 13.9  | 0.37m   | 0.40  | 8500m  | 4910  | 930   | 580p  | 0.00133  | 0.00327
basswood             | American basswood     | Tilia americana         | hardwood | 6.6  | 9.3   | 15.8  | 0.32m   | 0.37  | 8700   | 4730  | 990   | 350p  | 0.00230  | 0.00330
beech_american       | American beech        | Fagus grandifolia       | hardwood | 5.5  | 11.9  | 17.2  | 0.56m   | 0.64  | 14900  | 7300  | 2010  | 1010p | 0.00190  | 0.00431
birch_yellow         | Yellow birch          | Betula alleghaniensis   | hardwood | 7.3  | 9.5   | 16.8  | 0.55    | 0.62  | 16600  | 8170  | 1880  | 920p  | 0.00256  | 0.00338
sweetgum             | Sweetgum              | Liquidambar styraciflua | hardwood | 5.3  | 10.2  | 15.8  | 0.46m   | 0.52m | 12500m | 6320m | 1600m | 760m  | 0.00183  | 0.00365
hackberry            | Hackberry             | Celtis occidentalis     | hardwood | 4.8  | 8.9   | 13.8  | 0.49m   | 0.53  | 11000m | 5440  | 1590  | 580m  | 0.00165  | 0.00315
alder_red            | Red alder             | Alnus rubra             | hardwood | 4.4  | 7.3   | 12.6  | 0.37m   | 0.41  | 9800   | 5820  | 1080  | 420m  | 0.00151  | 0.00256
baldcypress          | Baldcypress           | Taxodium distichum      | softwood | 3.8m | 6.2m  | 10.5m | 0.42m   | 0.46m | 10600m | 6360m | 1000m | 270m  | 0.00130m | 0.00216m
redcedar_eastern     | Eastern redcedar      | Juniperus virginiana    | softwood | 3.1  | 4.7   | 7.8   | 0.44m   | 0.47m | 8800m  | 6020m | -     | -     | 0.00106m | 0.00162m
redcedar_western     | Western redcedar      | Thuja plicata           | softwood | 2.4  | 5.0   | 6.8   | 0.31m   | 0.32m | 7500m  | 4560m | 990m  | 220p  | 0.00111m | 0.00234m
douglas_fir_coast    | Douglas-fir, coast    | Pseudotsuga menziesii   | softwood | 4.8  | 7.6   | 12.4  | 0.45m   | 0.48  | 12400  | 7230m | 1130m | 340p  | 0.00165m | 0.00267s
redwood_old_growth   | Redwood, old-growth   | Sequoia sempervirens    | softwood | 2.6m | 4.4m  | 6.8m  | 0.38    | 0.40  | 10000  | 6150  | 940   | 240   | 0.00120m | 0.00205m
redwood_young_growth | Redwood, young-growth | Sequoia sempervirens    | softwood | 2.2m | 4.9m  | 7.0m  | 0.34    | 0.35  | 7900   | 5220  | 1110  | 250p  | 0.00101m | 0.00229m
pine_ponderosa       | Ponderosa pine        | Pinus ponderosa         | softwood | 3.9m | 6.2m  | 9.7m  | 0.38    | 0.40  | 9400   | 5320  | 1130  | 420   | 0.00133m | 0.00216m
pine_eastern_white   | Eastern white pine    | Pinus strobus           | softwood | 2.1s | 6.1s  | 8.2m  | 0.34m   | 0.35m | 8600m  | 4800m | 900m  | 310p  | 0.00071m | 0.00212m
fir_white            | White fir             | Abies concolor          | softwood | 3.3  | 7.0   | 9.8   | 0.37m   | 0.39m | 9800m  | 5800m | 1100m | 300p  | 0.00112  | 0.00245m
mahogany_true        | Mahogany, true        | Swietenia macrophylla   | imported | 3.0  | 4.1   | 7.8   | 0.45    | -     | 11500  | 6780  | 1230  | -     | 0.00172m | 0.00238m
mahogany_african     | Mahogany, African     | Khaya spp.              | imported | 2.5  | 4.5   | 8.8   | 0.42    | -     | 10700  | 6460  | 1500  | -     | -        | -
teak                 | Teak                  | Tectona grandis         | imported | 2.5m | 5.8m  | 7.0m  | 0.55    | -     | 14600  | 8410  | 1890  | -     | 0.00101m | 0.00186s
`;

/** What a reader of these rows must know besides. */
export const SPECIES_NOTES: Readonly<Record<string, string>> = {
  oak_white:
    "Table 13-5 gives the commercial group 'White Oak'; Quercus alba's own shrinkage gives 0.00194 and 0.00376.",
  oak_red_northern:
    "Table 13-5 gives the commercial group 'Red Oak'; Quercus rubra's own shrinkage gives 0.00137 and 0.00304.",
  maple_sugar: 'The handbook has no tension across the grain; black maple has 670 psi.',
  hickory_shagbark:
    "Table 13-5 gives the group 'Hickory, true'; Carya ovata's own shrinkage gives 0.00245 and 0.00376.",
  redcedar_western: 'The coefficients follow from a fibre saturation of 22 %, not 30 % (inferred).',
  redwood_old_growth: 'The coefficients follow from a fibre saturation of 22 %, not 30 % (inferred).',
  redwood_young_growth: 'The coefficients follow from a fibre saturation of 22 %, not 30 % (inferred).',
  mahogany_true:
    'Imported: figures from world literature. Table 13-5 does not follow from the tabled shrinkage, which gives 0.00102 and 0.00141.',
  mahogany_african:
    'Imported: figures from world literature. No coefficient was collected; it is derived from shrinkage.',
};
